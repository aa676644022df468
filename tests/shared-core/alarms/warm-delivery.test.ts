import { comesBack, noteWarmDelivery } from "@leeward/shared-core/alarms/warm-delivery.ts";
import { expect, test } from "vitest";
import { flowing, snapshot, start } from "./bench-station.ts";

// Levels invented; what matters is which of them a body of which temperature may come back to.
const level = { linePa: 4e5, cylinderPa: 150e5 };

/** A warm weld and its rest, then a weld with the body at `regulatorK`, and the line at 3.9 bar after it. */
function afterWeldAt(regulatorK: number) {
  const weld = { ...level, linePa: 3.45e5, gasOnSince: start };
  let warm = noteWarmDelivery(null, flowing({ ...weld, t: start + 30, regulatorK: 288 }));
  const rest = { ...level, mode: "idle" as const, gasOnSince: null, gasOffSince: start + 60 };
  warm = noteWarmDelivery(warm, snapshot({ ...rest, t: start + 90, regulatorK: 288 }));
  const cold = { ...weld, gasOnSince: start + 300, regulatorK };
  warm = noteWarmDelivery(warm, flowing({ ...cold, t: start + 900 }));
  return { warm, now: snapshot({ ...rest, t: start + 1200, linePa: 3.9e5, regulatorK }) };
}

test("a line comes back to where it rested once the body was far below freezing", () => {
  const { warm, now } = afterWeldAt(253);
  expect(comesBack(now, warm)).toBe(true);
  expect(comesBack({ ...now, linePa: 4.4e5 }, warm)).toBe(false);
});

test.each([284, 275])("a body of %d K was merely cool: nothing comes back", (regulatorK) => {
  const { warm, now } = afterWeldAt(regulatorK);
  expect(warm?.restPa).toBe(4e5);
  expect(comesBack(now, warm)).toBe(false);
});

test("nor does anything once it has closed warm again", () => {
  const { warm, now } = afterWeldAt(253);
  const closed = { ...now, gasOffSince: start + 1170, regulatorK: 288 };
  expect(comesBack(now, noteWarmDelivery(warm, closed))).toBe(false);
});
