import { readdirSync, readFileSync } from "node:fs";
import { cylinderHot } from "@leeward/shared-core/alarms/_blueprint.ts";
import { alarmTable } from "@leeward/shared-core/alarms/alarm-table.ts";
import { alarmConditions, findCondition } from "@leeward/shared-core/alarms/index.ts";
import { describe, expect, test } from "vitest";

const root = new URL("../../../", import.meta.url);
/** The list of ids that the interface between the parts fixes. */
const ids = [
  "under-shielding",
  "over-flow",
  "arc-without-gas",
  "runs-out-soon",
  "cylinder-low",
  "cylinder-empty",
  "reserve-in-use",
  "trapped-line-pressure",
  "line-pressure-high",
  "regulator-creep",
  "regulator-icing",
  "back-pressure-changed",
  "leak",
  "gas-left-on",
  "reading-shift",
  "wrong-gas",
  "sensor-fault",
  "calibration-overdue",
  "node-silent",
  "node-clock-wrong",
  "node-config-refused",
  "node-supply-low",
  "nobody-reachable",
];

describe("registry of alarm conditions", () => {
  test("holds exactly the conditions of the contract, each once", () => {
    expect(alarmConditions.map((condition) => condition.condition).sort()).toEqual([...ids].sort());
  });
  test("each lives in a file of its own name", () => {
    const files = new Set(readdirSync(new URL("shared-core/alarms/", root)));
    for (const id of ids) expect(files).toContain(`${id}.ts`);
  });
  test.each(alarmConditions.map((condition) => [condition.condition, condition] as const))(
    "%s carries a whole rationalization",
    (id, condition) => {
      for (const part of [
        condition.title,
        condition.cause,
        condition.consequence,
        condition.operatorAction,
        condition.timeToRespond,
        condition.limit,
        condition.deadband,
        condition.delayReason,
      ]) {
        expect(part.length).toBeGreaterThan(3);
      }
      expect(["high", "medium", "low"]).toContain(condition.priority);
      expect(condition.onDelayS).toBeGreaterThanOrEqual(0);
      expect(condition.offDelayS).toBeGreaterThanOrEqual(0);
      expect(condition.suppresses).not.toContain(id);
      expect(findCondition(id)).toBe(condition);
    },
  );
  test("a silent node explains every condition that rests on its samples", () => {
    const silent = findCondition("node-silent");
    const judged = alarmConditions.filter((condition) => !condition.judgedWhenSilent);
    for (const condition of judged) expect(silent?.suppresses).toContain(condition.condition);
  });
  test("nothing else hides what endangers people", () => {
    for (const condition of alarmConditions) {
      if (condition.condition === "node-silent") continue;
      for (const id of ["gas-left-on", "leak", "line-pressure-high", "regulator-creep"]) {
        expect(condition.suppresses).not.toContain(id);
      }
    }
  });
  test("the blueprint is whole and not registered", () => {
    expect(cylinderHot.describe).toBeTypeOf("function");
    expect(findCondition(cylinderHot.condition)).toBeUndefined();
  });
  test("docs/alarms.md is what the code says; write it anew with gateway/alarms/write-alarm-table.ts", () => {
    expect(readFileSync(new URL("docs/alarms.md", root), "utf8")).toBe(alarmTable());
  });
  test("the table escapes what would break it", () => {
    const odd = { ...cylinderHot, cause: "a | b" };
    expect(alarmTable([odd])).toContain("a \\| b");
  });
});
