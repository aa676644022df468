import { describe, expect, it } from "vitest";
import type { Plant } from "../../../gateway/virtual-shop/plant/plant.ts";
import type { ActiveAlarm } from "../../../shared-core/estimation/estimate.ts";
import { Cycle } from "../../accuracy/cycle.ts";
import { type Line, once, type Scenario, simulate, startUnixS } from "../../accuracy/simulate.ts";
import { drawnHard, liquidStation, migStation, tigStation } from "../../accuracy/stations.ts";

/** What to do, from the plant to the words: the advice must be right for what is really the matter. */

function shownWith(
  lines: readonly Line[],
  condition: string,
  test: (alarm: ActiveAlarm) => boolean = () => true,
): { line: Line; alarm: ActiveAlarm } | null {
  for (const line of lines) {
    const alarm = line.estimate.alarms.find((one) => one.condition === condition);
    if (alarm && test(alarm)) return { line, alarm };
  }
  return null;
}

const keysOf = (alarm: ActiveAlarm | undefined) => alarm?.said?.advice.map(({ say }) => say) ?? [];

const welds: NonNullable<Scenario["actors"]> = (_plant, _reporter, log, seed) => [
  new Cycle(log, seed, [40, 90], [30, 60], 60),
];

describe("too little gas", () => {
  const scenario = {
    name: "short",
    about: "",
    every: 5,
    station: tigStation({ cylinder: { residualBar: 2 } }),
    hours: 2,
    variation: () => ({}),
    start: (plant: Plant) => plant.setTrueFlow(8),
    actors: welds,
  };

  it("on a cylinder that the regulator cannot work from: its change first, dialling up only to finish", () => {
    const { lines } = simulate(
      {
        ...scenario,
        station: tigStation({ cylinder: { residualBar: 2, waterVolumeL: 10 } }),
        variation: () => ({ presentBar: 55, presentC: 20 }),
      },
      4,
    );
    const shown = shownWith(lines, "under-shielding");
    expect(shown?.line.truth.flowLpm).toBeLessThan(6);
    // The regulator is wide open there: the plant's line has come down to the cylinder.
    const { cylinderGaugePa, lineGaugePa } = shown!.line.truth;
    expect(lineGaugePa).toBeGreaterThan(0.6 * cylinderGaugePa);
    expect(keysOf(shown?.alarm)[0]).toBe("too-low-for-regulator");
    expect(shown?.alarm.advice).toMatch(
      /^Change the cylinder: .* Only to finish this weld: Press gas test and turn the float up to [\d.]+ L/,
    );
    // Nothing of this before: while the regulator holds, no alarm of too little gas either.
    const before = lines.filter(({ estimate }) => estimate.t < shown!.line.estimate.t);
    expect(
      Math.min(
        ...before.filter(({ truth }) => truth.gasOn).map(({ truth }) => truth.cylinderGaugePa),
      ),
    ).toBeLessThan(12e5);
  }, 60_000);

  it("on a good cylinder whose line fell: the float is turned up, no word of a change", () => {
    const { lines } = simulate(
      {
        ...scenario,
        actors: (plant, reporter, log, seed) => [
          ...welds(plant, reporter, log, seed),
          once(startUnixS + 3600, (changed) => changed.setDeliveryFor(5)),
        ],
      },
      4,
    );
    const shown = shownWith(lines, "under-shielding");
    expect(keysOf(shown?.alarm)[0]).toBe("turn-device");
    expect(keysOf(shown?.alarm)).not.toContain("too-low-for-regulator");
  }, 60_000);

  it("a reading to set beyond the procedure's own limits says so, and is the one that gives the target", () => {
    let readingSet: number | null = null;
    const first = simulate(scenarioAt(null), 4);
    const shown = shownWith(first.lines, "under-shielding");
    readingSet = shown?.line.estimate.dialTo?.reading ?? null;
    // The procedure allows 6 to 10 L/min on the scale.
    expect(readingSet).toBeGreaterThan(10.1);
    expect(keysOf(shown?.alarm).slice(0, 2)).toEqual(["turn-device", "outside-procedure"]);
    expect(shown?.alarm.said?.advice[1]?.of).toMatchObject({ above: true, bound: 10 });
    expect(shown?.alarm.advice).toContain("above the 10 L/min");
    // Done as it says, the plant passes the target of 8 L/min.
    const { lines } = simulate(scenarioAt(readingSet), 4);
    const last = lines.findLast(({ truth }) => truth.gasOn)!.truth.flowLpm;
    expect(Math.abs(last - 8)).toBeLessThan(0.5);
  }, 90_000);

  it("within them nothing is said of limits", () => {
    const { lines } = simulate(
      {
        ...scenario,
        actors: (plant, reporter, log, seed) => [
          ...welds(plant, reporter, log, seed),
          once(startUnixS + 3600, (changed) => changed.setDeliveryFor(5.6)),
        ],
      },
      4,
    );
    const shown = shownWith(lines, "under-shielding");
    expect(shown?.line.estimate.dialTo?.reading).toBeLessThan(10);
    expect(keysOf(shown?.alarm)).not.toContain("outside-procedure");
  }, 60_000);

  /** The line falls until the old setting gives 4 L/min; `reading` is set on the scale later. */
  function scenarioAt(reading: number | null): Scenario {
    return {
      ...scenario,
      actors: (plant, reporter, log, seed) => [
        ...welds(plant, reporter, log, seed),
        once(startUnixS + 3600, (changed) => changed.setDeliveryFor(4)),
        ...(reading === null
          ? []
          : [once(startUnixS + 5000, (changed: Plant) => void changed.setReading(reading))]),
      ],
    };
  }
});

describe("cold that takes delivery away", () => {
  const co2 = liquidStation(18, drawnHard);

  it("is urgent once the plant's delivery falls, after it was foreseen", () => {
    const { lines } = simulate(
      {
        name: "ice",
        about: "",
        every: 10,
        hours: 1,
        station: co2,
        // Falls by 1 % for each kelvin below -15 °C.
        variation: () => ({ bodyToAirWPerK: 0.5, weather: { meanC: 15, dailySwingK: 5 } }),
        start: (plant) => plant.setTrueFlow(30),
        actors: (_plant, _reporter, log, seed) => [new Cycle(log, seed, [120, 240], [20, 60], 60)],
      },
      6,
    );
    const foreseen = shownWith(lines, "regulator-icing");
    const urgent = shownWith(lines, "regulator-icing", ({ priority }) => priority === "high");
    expect(foreseen?.line.truth.bodyC).toBeGreaterThan(-15);
    expect(urgent?.line.truth.bodyC).toBeLessThan(-15);
    expect(urgent?.line.truth.bodyC).toBeGreaterThan(-26);
  }, 60_000);

  it("is not seen in a full cylinder in a cold shop, whose regulator gives less than at the end of the last", () => {
    const { lines } = simulate(
      {
        name: "cold swap",
        about: "",
        every: 10,
        hours: 3,
        station: migStation(),
        variation: () => ({
          presentBar: 40,
          presentC: 8,
          supplyEffectBarPer100: -0.6,
          weather: { meanC: 5, dailySwingK: 2 },
        }),
        start: (plant) => plant.setTrueFlow(14),
        actors: (_plant, _reporter, log, seed) => [
          new Cycle(log, seed, [20, 60], [15, 40], 60),
          once(startUnixS + 3000, (plant) => {
            plant.swap({ gaugePa: 195e5, temperatureK: 278 });
          }),
        ],
      },
      3,
    );
    const flowing = lines.filter(({ truth }) => truth.gasOn);
    // The very picture that looked like ice: a body near freezing and a line far below its usual.
    expect(Math.min(...flowing.map(({ truth }) => truth.bodyC))).toBeLessThan(1);
    const lineAt = (fromS: number) =>
      flowing.find(({ truth }) => truth.t > startUnixS + fromS)!.truth.lineGaugePa;
    expect(lineAt(4000)).toBeLessThan(0.9 * lineAt(2000));
    expect(shownWith(lines, "regulator-icing")).toBeNull();
  }, 60_000);
});
