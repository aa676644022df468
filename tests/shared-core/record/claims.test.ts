import { expect, test } from "vitest";
import { type Claim, withClaims } from "../../../shared-core/record/claims.ts";
import type { JobSpan } from "../../../shared-core/record/jobs.ts";

const told = (from: number, to: number | null, job: string | null, wps: string | null = null) =>
  ({ from, to, job, welder: null, wps, gasless: false }) satisfies JobSpan;
const claim = (from: number, to: number, job: string | null): Claim => ({
  ...{ from, to, job, welder: null, by: "Grace", release: job === null },
});
const short = (spans: JobSpan[]) =>
  spans.map(({ from, to, job, wps, claimedBy }) => [from, to, job, wps, claimedBy ?? null]);

test("a claim fills only what nobody had told by name", () => {
  const spans = withClaims(
    [told(20, 30, "keel 7"), told(50, null, "keel 8")],
    [claim(0, 60, "rail")],
  );
  expect(short(spans)).toEqual([
    [0, 20, "rail", null, "Grace"],
    [20, 30, "keel 7", null, null],
    [30, 50, "rail", null, "Grace"],
    [50, null, "keel 8", null, null],
  ]);
});

test("a job without a name keeps its procedure when it is claimed", () => {
  expect(short(withClaims([told(10, null, null, "W-12")], [claim(0, 40, "rail")]))).toEqual([
    [0, 10, "rail", null, "Grace"],
    [10, 40, "rail", "W-12", "Grace"],
    [40, null, null, "W-12", null],
  ]);
});

test("the later claim counts, and a claim can be taken back in part", () => {
  const claims = [claim(0, 40, "rail"), claim(10, 20, "keel 7"), claim(30, 100, null)];
  expect(short(withClaims([], claims))).toEqual([
    [0, 10, "rail", null, "Grace"],
    [10, 20, "keel 7", null, "Grace"],
    [20, 30, "rail", null, "Grace"],
  ]);
});

test("a claim taken back gives what it had hidden back to the earlier claim", () => {
  const claims = [claim(10, 20, "keel 7"), claim(0, 40, "rail"), claim(0, 40, null)];
  expect(short(withClaims([], claims))).toEqual([[10, 20, "keel 7", null, "Grace"]]);
  expect(withClaims([], [...claims, claim(0, 40, null)])).toEqual([]);
});

test("the same said twice is taken back as one, and only over the span that is named", () => {
  const claims = [claim(0, 40, "rail"), claim(0, 40, "rail"), claim(10, 20, null)];
  expect(short(withClaims([], claims))).toEqual([
    [0, 10, "rail", null, "Grace"],
    [20, 40, "rail", null, "Grace"],
  ]);
});
