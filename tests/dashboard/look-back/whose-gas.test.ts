import { expect, test } from "vitest";
import { whoseGas } from "../../../dashboard/look-back/whose-gas.ts";
import { type Claim, withClaims } from "../../../shared-core/record/claims.ts";
import type { JobSpan } from "../../../shared-core/record/jobs.ts";

const told = (from: number, to: number | null, job: string | null, wps: string | null = null) =>
  ({ from, to, job, welder: null, wps, gasless: false }) satisfies JobSpan;
const claim = (from: number, to: number, job: string): Claim => ({
  ...{ from, to, job, welder: null, by: "Grace", release: false, said: 500 },
});
const sheet = (jobs: JobSpan[], spells: { from: number; to: number }[] = []) =>
  whoseGas({ from: 100, to: 200, jobs, record: { spells } } as unknown as Parameters<
    typeof whoseGas
  >[0]);

test("a claim says who made it, and when", () => {
  const { jobs } = sheet(withClaims([], [claim(110, 150, "rail")]));
  expect(jobs).toMatchObject([{ job: "rail", claimedBy: "Grace", claimedAt: 500 }]);
});

test("jobs of before and after are not this sheet's; one that goes on is", () => {
  const { jobs } = sheet([told(0, 100, "keel 1"), told(120, null, "keel 2"), told(200, 300, "x")]);
  expect(jobs.map(({ job }) => job)).toEqual(["keel 2"]);
});

test("what nobody gave a name stays out, unless it named a procedure", () => {
  const { jobs } = sheet([told(110, 120, null), told(130, 140, null, "W-12")]);
  expect(jobs.map(({ wps }) => wps)).toEqual(["W-12"]);
});

test("gas of no job is counted beside that of jobs", () => {
  const spells = [
    { from: 110, to: 120 },
    { from: 130, to: 140 },
  ];
  expect(sheet([told(125, 150, "rail")], spells)).toMatchObject({ unassigned: 1, spells: 2 });
});

test("more than fit on one printed sheet are counted", () => {
  const many = Array.from({ length: 9 }, (_, k) => told(100 + k, 101 + k, `j${k}`));
  expect(sheet(many)).toMatchObject({ more: 3, jobs: { length: 6 } });
});
