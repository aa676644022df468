import { describe, expect, test } from "vitest";
import { alarmLanguages } from "../../../shared-core/alarms/language/index.ts";
import { says } from "../../../shared-core/alarms/language/said.ts";
import { metricSayUnits } from "../../../shared-core/alarms/language/say.ts";
import { nodeSilent } from "../../../shared-core/alarms/node-silent.ts";
import { withRefusedClock } from "../../../shared-core/alarms/refused-clock.ts";

const clock = { aheadS: 1020, since: 100 };
const english = { units: metricSayUnits, language: "en" } as const;
const alarm = (condition: string, priority: "low" | "medium" | "high") => ({
  condition,
  priority,
  since: 50,
});

describe("a clock so far ahead that packs are refused", () => {
  test("stands beside what the latest line still says", () => {
    const over = withRefusedClock([alarm("leak", "medium")], clock, english);
    expect(over.alarms.map(({ condition }) => condition)).toEqual(["node-clock-wrong", "leak"]);
    expect(over.suppressed).toEqual([]);
  });

  test("takes over the silence: its priority, what it hides, and what stood then", () => {
    const standing = says("standing-then", { conditions: "under-shielding leak" });
    const silence = {
      ...alarm("node-silent", "high"),
      said: { title: [says("node-silent", { s: 600 })], advice: [standing] },
    };
    const over = withRefusedClock([silence], clock, english);
    expect(over.alarms).toHaveLength(1);
    expect(over.alarms[0]).toMatchObject({ priority: "high", since: 100 });
    expect(over.alarms[0]?.advice).toContain(alarmLanguages.en.titles["under-shielding"]);
    // The silence's own advice would send people to look for power and network.
    expect(over.alarms[0]?.advice).not.toMatch(/power|network/);
    expect(over.suppressed.map(({ condition }) => condition).sort()).toEqual(
      ["node-silent", ...nodeSilent.suppresses].filter((one) => one !== "node-clock-wrong").sort(),
    );
  });

  test("takes the place of the clock that is only minutes ahead", () => {
    const over = withRefusedClock([alarm("node-clock-wrong", "low")], clock, english);
    expect(over.alarms).toMatchObject([{ condition: "node-clock-wrong", priority: "medium" }]);
  });

  test.each(Object.keys(alarmLanguages) as (keyof typeof alarmLanguages)[])(
    "says by how much, in %s",
    (language) => {
      const [said] = withRefusedClock([], clock, { units: metricSayUnits, language }).alarms;
      expect(said?.title).toContain("17 min");
      expect(said?.title?.length).toBeLessThan(80);
    },
  );
});
