import { describe, expect, test } from "vitest";
import { setup as english } from "../../../dashboard/language/english/setup.ts";
import { setup as german } from "../../../dashboard/language/german/setup.ts";
import { setup as spanish } from "../../../dashboard/language/spanish/setup.ts";
import { allGood, sanity } from "../../../dashboard/setup/sanity.ts";

const now = (value: number | string, ageS = 2) => ({ value, ageS });
const classes = {
  cylinder: { rangeBar: 250, accuracyPercentFs: 0.5 },
  line: { rangeBar: 10, accuracyPercentFs: 0.5 },
  lineFitted: true,
};
const inAir = {
  "cylinder-pressure": now(40_000),
  "line-pressure": now(-3000),
  "cylinder-temperature": now(19.2),
  "regulator-temperature": now(20.1),
};
const states = (measured: Record<string, { value: number | string; ageS: number }>, airC = 20) =>
  sanity({ measured }, classes, airC).map((row) => `${row.channel} ${row.state}`);

describe("sensors against the open air", () => {
  test("both pressures within their class, both thermometers near the air: good", () => {
    const rows = sanity({ measured: inAir }, classes, 20);
    expect(rows.map((row) => row.state)).toEqual(["good", "good", "good", "good"]);
    // 0.5 % of 250 bar and of 10 bar.
    expect(rows.slice(0, 2).map((row) => row.limit)).toEqual([125_000, 5000]);
    expect(allGood(rows)).toBe(true);
  });

  test.each<[string, Record<string, { value: number | string; ageS: number }>, string]>([
    ["above its class", { "line-pressure": now(5100) }, "line-pressure off"],
    ["below its class", { "cylinder-pressure": now(-126_000) }, "cylinder-pressure off"],
    ["far from the air", { "regulator-temperature": now(25) }, "regulator-temperature off"],
    ["too old", { "line-pressure": now(0, 200) }, "line-pressure old"],
    ["a fault word", { "line-pressure/fault": now("open-circuit", 1) }, "line-pressure fault"],
  ])("%s is not good", (_name, change, state) => {
    expect(states({ ...inAir, ...change })).toContain(state);
    expect(allGood(sanity({ measured: { ...inAir, ...change } }, classes, 20))).toBe(false);
  });

  test("a missing value is never good", () => {
    const { "line-pressure": _, ...without } = inAir;
    expect(states(without)).toContain("line-pressure missing");
    expect(allGood(sanity({ measured: {} }, classes, 20))).toBe(false);
  });

  test("a class that is not known judges nothing", () => {
    const rows = sanity({ measured: inAir }, { ...classes, line: null }, 20);
    expect(rows[1]).toMatchObject({ state: "no-class", value: -3000 });
    expect(allGood(rows)).toBe(false);
  });

  test("without a thermometer in the air the probes are held against each other", () => {
    const apart = { ...inAir, "regulator-temperature": now(32) };
    const rows = sanity({ measured: apart }, classes, null);
    expect(rows.slice(2).map((row) => row.state)).toEqual(["off", "off"]);
    // Two that agree may both be wrong: that is said, and no more.
    const together = sanity({ measured: inAir }, classes, null);
    expect(together.slice(2).map((row) => row.state)).toEqual(["agree", "agree"]);
    expect(allGood(together)).toBe(false);
  });

  const { "regulator-temperature": _regulator, ...oneProbe } = inAir;
  test.each<[string, Record<string, { value: number | string; ageS: number }>, string[]]>([
    ["is not fitted", oneProbe, ["no-air"]],
    [
      "never had a reading",
      { ...oneProbe, "regulator-temperature/fault": now("open-circuit", 1) },
      ["no-air", "fault"],
    ],
    [
      "is in fault",
      { ...inAir, "regulator-temperature/fault": now("open-circuit", 1) },
      ["no-air", "fault"],
    ],
    ["is old", { ...inAir, "regulator-temperature": now(20.1, 200) }, ["no-air", "old"]],
  ])("a thermometer agrees with nobody where the other %s", (_name, measured, expected) => {
    const rows = sanity({ measured }, classes, null);
    expect(rows.slice(2).map((row) => row.state)).toEqual(expected);
    expect(allGood(rows)).toBe(false);
    // The air's temperature, once typed, judges it.
    expect(sanity({ measured }, classes, 20)[2]?.state).toBe("good");
  });

  test("a node's air thermometer in fault or old judges no other", () => {
    const alone = { ...oneProbe, "ambient-temperature": now(20) };
    expect(sanity({ measured: alone }, classes, null)[2]?.state).toBe("good");
    const faulty = { ...alone, "ambient-temperature/fault": now("open-circuit", 1) };
    expect(sanity({ measured: faulty }, classes, null)[2]?.state).toBe("no-air");
    const old = { ...alone, "ambient-temperature": now(20, 200) };
    expect(sanity({ measured: old }, classes, null)[2]?.state).toBe("no-air");
  });

  test.each([
    ["English", english],
    ["German", german],
    ["Spanish", spanish],
  ])(
    "a thermometer is asked for the air's temperature in %s, not for range and class",
    (_name, text) => {
      expect(text.sanity.states["no-air"]).toMatch(
        /air's temperature|Lufttemperatur|temperatura del aire/,
      );
    },
  );

  test("a fault that has passed is no fault any more", () => {
    const measured = { ...inAir, "line-pressure/fault": now("open-circuit", 60) };
    expect(states(measured)).toContain("line-pressure good");
  });
});
