import type { LookBack } from "@leeward/shared-core/api/look-back.ts";
import { shieldingRecord } from "@leeward/shared-core/record/shielding.ts";
import { expect, test } from "vitest";
import { nothingRecorded } from "../../../dashboard/look-back/verdict.ts";

const span = { from: 1_000_000, to: 1_003_600 };

function report(samples: Parameters<typeof shieldingRecord>[0]["samples"]) {
  const record = shieldingRecord({ ...span, samples, windows: [], arcs: [] });
  return { ...span, record } as LookBack;
}

test("an hour of which nothing was recorded is not an hour without gas", () => {
  expect(nothingRecorded(report([]))).toBe(true);
});

test("one minute that was recorded is something", () => {
  const samples = [0, 15, 30, 45].map((s) => ({ t: span.from + s, lpm: 0, low: 0, high: 0 }));
  expect(nothingRecorded(report(samples))).toBe(false);
});
