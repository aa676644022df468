import { describe, expect, it } from "vitest";
import { costInput, startingFields } from "../../../dashboard/bench/cost-fields.ts";
import { countStarts } from "../../../dashboard/bench/station-starts.ts";
import { tubeStation } from "../../shared-core/bench/plant-bench.ts";

describe("starts of a station", () => {
  const entry = (kind: string, time: string) => ({ kind, time });

  it("counts gas-on spells by the days that had any", () => {
    const entries = [
      entry("gas-on", "2026-03-02T08:00:00Z"),
      entry("gas-off", "2026-03-02T08:00:40Z"),
      entry("gas-on", "2026-03-02T09:00:00Z"),
      entry("gas-on", "2026-03-04T09:00:00Z"),
    ];
    expect(countStarts(entries)).toEqual({ perDay: 1.5, days: 2 });
  });

  it("none is unknown, not zero", () => {
    expect(countStarts([entry("swap", "2026-03-02T08:00:00Z")])).toBeNull();
  });
});

describe("what a station says of its costs", () => {
  const station = tubeStation();
  const priced = tubeStation({ cylinder: { ...station.cylinder, pricePerFill: 85 } });

  it("takes the gas price from the fill, by the real gas", () => {
    // 50 L of argon at 200 bar and 20 °C: 10.5 m³ at 20 °C (from memory: Z = 0.946).
    expect(Number(startingFields(priced, null).gas)).toBeCloseTo(85 / 10.49, 1);
  });

  it("the owner's own figures come first, then the station's count", () => {
    const own = tubeStation({ costs: { startsPerDay: 40, gasPerM3: 5 } });
    expect(startingFields(own, 90)).toMatchObject({ starts: "40", gas: "5", days: "" });
    expect(startingFields(station, 89.6)).toMatchObject({ starts: "90", gas: "" });
  });

  it("no figure without starts and days; a price may be missing", () => {
    const fields = startingFields(priced, 60);
    expect(costInput(fields)).toBeNull();
    expect(costInput({ ...fields, days: "220", gas: "" })).toEqual({
      startsPerDay: 60,
      workdaysPerYear: 220,
      pricePerLitre: null,
    });
  });
});
