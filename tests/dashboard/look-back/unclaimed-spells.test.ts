import { expect, test } from "vitest";
import {
  unclaimedSpells,
  unclaimedStretches,
} from "../../../dashboard/look-back/unclaimed-spells.ts";
import { type Claim, withClaims } from "../../../shared-core/record/claims.ts";

const spells = [
  { from: 0, to: 10 },
  { from: 20, to: 30 },
  { from: 40, to: 50 },
  { from: 60, to: 70 },
];
const claim = (from: number, to: number, job: string): Claim => ({
  ...{ from, to, job, welder: null, by: null, release: false },
});
const report = (claims: Claim[]) =>
  ({ record: { spells }, jobs: withClaims([], claims) }) as unknown as Parameters<
    typeof unclaimedSpells
  >[0];
const toGive = (claims: Claim[]) => {
  const page = report(claims);
  return unclaimedStretches(unclaimedSpells(page), page.jobs);
};

test("with nothing claimed, all spells are one stretch", () => {
  expect(toGive([])).toEqual([{ from: 0, to: 70 }]);
});

test("giving all to a job leaves what was claimed in between with its own", () => {
  const before = [claim(20, 30, "keel 7"), claim(45, 55, "keel 8")];
  const gaps = toGive(before);
  expect(gaps).toEqual([
    { from: 0, to: 10 },
    { from: 40, to: 45 },
    { from: 60, to: 70 },
  ]);
  const after = withClaims([], [...before, ...gaps.map(({ from, to }) => claim(from, to, "rail"))]);
  expect(after.map(({ from, to, job }) => [from, to, job])).toEqual([
    [0, 10, "rail"],
    [20, 30, "keel 7"],
    [40, 45, "rail"],
    [45, 55, "keel 8"],
    [60, 70, "rail"],
  ]);
  expect(toGive([...before, ...gaps.map(({ from, to }) => claim(from, to, "rail"))])).toEqual([]);
});
