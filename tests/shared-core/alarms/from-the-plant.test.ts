import { describe, expect, it } from "vitest";
import type { Plant } from "../../../gateway/virtual-shop/plant/plant.ts";
import type { Estimate } from "../../../shared-core/estimation/estimate.ts";
import { creepIdleMin, shutIn } from "../../accuracy/alarm-runs.ts";
import { Cycle, reDial } from "../../accuracy/cycle.ts";
import { once, simulate, startUnixS } from "../../accuracy/simulate.ts";
import { drawnHard, liquidStation, tigStation } from "../../accuracy/stations.ts";
import { allHours } from "../../hours.ts";

/** From the plant to the words: what was turned, declared or forgotten, judged from samples alone. */

function firstShown(lines: readonly { estimate: Estimate }[], condition: string, fromS: number) {
  for (const { estimate } of lines) {
    const alarm = estimate.alarms.find((one) => one.condition === condition);
    if (alarm && estimate.t >= fromS) return { estimate, alarm };
  }
  return null;
}

/** A swap behind a closed valve, and gas-on again twenty minutes later. */
const swapS = 2.25 * 3600;
const againS = 2.6 * 3600;

/**
 * The line falls until the old reading gives 5.6 L/min, the float is turned up by 40 %, a full
 * cylinder brings the line back.
 */
function story(after: { seatLpm?: number } = {}) {
  const fullS = startUnixS + swapS;
  const { lines } = simulate(
    {
      name: "dialled up",
      about: "",
      every: 10,
      station: tigStation(),
      hours: 3.2,
      variation: () => ({ presentBar: 60, lockUpBar: 0.4, supplyEffectBarPer100: -0.3 }),
      start: (plant: Plant) => plant.setTrueFlow(8),
      actors: (_plant, _reporter, log, seed) => {
        let usualPa = 0;
        return [
          new Cycle(log, seed, [40, 90], [30, 60], 60, swapS - 180),
          new Cycle(log, seed, [40, 90], [30, 60], againS),
          once(startUnixS + 3600, (plant) => {
            usualPa = plant.inputs.deliveryPa;
            plant.setDeliveryFor(5.6);
          }),
          reDial(log, 1.5, 1.4),
          once(fullS - 120, (plant) => {
            plant.inputs.cylinderValveOpen = false;
          }),
          once(fullS, (plant) => {
            plant.inputs.cylinderValveOpen = true;
            plant.swap({ gaugePa: 190e5, temperatureK: 290 });
            plant.inputs.deliveryPa = usualPa;
            // Ideal gas at 20 °C and 1 bar, behind 100 bar: what the plant's set-up reckons with.
            plant.config.regulator.seatLeakMolPerSPa =
              (((after.seatLpm ?? 0) / 60_000) * (1e5 / (8.314 * 293.15))) / 100e5;
            log.person(fullS + 30, { swap: {} });
          }),
        ];
      },
    },
    3,
  );
  return { lines, fullS };
}

describe("dialled up on a line that had fallen, then a full cylinder", () => {
  it("says before the next gas-on how much too much it would get, and where to turn the float back to", () => {
    const { lines, fullS } = story();
    const shown = firstShown(lines, "reading-shift", fullS);
    expect(shown?.estimate.mode).toBe("idle");
    expect(shown?.estimate.t).toBeLessThan(fullS + 180);
    expect(shown?.alarm.priority).toBe("medium");
    const next = lines.findLast(({ truth }) => truth.gasOn)!.truth.flowLpm;
    expect(next).toBeGreaterThan(10);
    const share = Number(/would get (\d+) %/.exec(shown?.alarm.title ?? "")?.[1]) / 100;
    expect(Math.abs(8 * (1 + share) - next)).toBeLessThan(0.1 * next);
    // At the pressure of the scale the reading is the flow.
    const back = /Turn the float back to ([\d.]+) L\/min\./.exec(shown?.alarm.advice ?? "");
    expect(Math.abs(Number(back?.[1]) - 8)).toBeLessThan(0.6);
  }, 60_000);

  it("a line that comes back in one step is neither a leaking seat nor on its way to its limit", () => {
    const { lines, fullS } = story();
    for (const condition of ["regulator-creep", "line-pressure-high"]) {
      expect(firstShown(lines, condition, fullS)).toBeNull();
    }
  }, 60_000);

  it.runIf(allHours)(
    "a seat that leaks from the swap on is still found, well before the limit",
    { tags: ["hours"], timeout: 60_000 },
    () => {
      const { lines, fullS } = story({ seatLpm: 0.02 });
      const shown = firstShown(lines, "regulator-creep", fullS);
      expect(shown).not.toBeNull();
      expect(shown!.estimate.t).toBeLessThan(fullS + 360);
      const at = lines.find(({ estimate }) => estimate.t >= shown!.estimate.t)!;
      expect(at.truth.lineGaugePa).toBeLessThan(0.8 * 8e5);
    },
  );
});

describe("dialled up on a line that had fallen, and the line comes back by itself", () => {
  it("says before the next gas-on where to turn the float back to, with no cylinder changed", () => {
    const backS = startUnixS + 2.3 * 3600;
    const { lines } = simulate(
      {
        name: "line recovers",
        about: "",
        every: 10,
        station: tigStation(),
        hours: 2.7,
        variation: () => ({ presentBar: 120, lockUpBar: 0.4, supplyEffectBarPer100: -0.3 }),
        start: (plant: Plant) => plant.setTrueFlow(8),
        actors: (_plant, _reporter, log, seed) => {
          let usualPa = 0;
          return [
            new Cycle(log, seed, [40, 90], [30, 60], 60, 2.25 * 3600),
            new Cycle(log, seed, [40, 90], [30, 60], againS),
            once(startUnixS + 3600, (plant) => {
              usualPa = plant.inputs.deliveryPa;
              plant.setDeliveryFor(5.6);
            }),
            reDial(log, 1.5, 1.4),
            once(backS, (plant) => {
              plant.inputs.deliveryPa = usualPa;
            }),
          ];
        },
      },
      3,
    );
    const dialled = lines.filter(({ estimate: { t } }) => t > startUnixS + 2 * 3600 && t < backS);
    expect(dialled.flatMap(({ estimate }) => estimate.alarms)).toEqual([]);
    const shown = firstShown(lines, "reading-shift", backS);
    expect(shown?.estimate.mode).toBe("idle");
    expect(shown?.estimate.t).toBeLessThan(startUnixS + againS);
    expect(shown?.alarm.priority).toBe("medium");
    const next = lines.findLast(({ truth }) => truth.gasOn)!.truth.flowLpm;
    const share = Number(/would get (\d+) %/.exec(shown?.alarm.title ?? "")?.[1]) / 100;
    expect(Math.abs(8 * (1 + share) - next)).toBeLessThan(0.1 * next);
    expect(shown?.alarm.advice).toMatch(/Turn the float back to [78](\.\d)? L\/min\./);
  }, 60_000);
});

describe("a regulator that thaws after CO2 was drawn hard", () => {
  const offS = 2400;
  const thaws = (
    seed: number,
    plant: { snowGrams: number; seatLpm?: number; noProbe?: boolean; shutS?: number },
  ) => {
    const { lines } = simulate(
      {
        name: "thaw",
        about: "",
        every: 10,
        hours: 1.6,
        station: liquidStation(18, drawnHard),
        variation: () => ({
          bodyToAirWPerK: 0.5,
          weather: { meanC: 15, dailySwingK: 5 },
          lockUpBar: 0.4,
          snowGrams: plant.snowGrams,
        }),
        alter: (config) => {
          if (plant.noProbe) config.sensors.body = null;
        },
        start: (one: Plant) => one.setTrueFlow(30),
        actors: (_plant, _reporter, log, s) => [
          new Cycle(log, s, [120, 240], [20, 60], 60, offS - 60),
          ...(plant.shutS === undefined ? [] : shutIn(startUnixS + plant.shutS)),
          once(startUnixS + offS, (one) => {
            // Ideal gas at 20 °C and 1 bar, behind the 50 bar of the liquid.
            one.config.regulator.seatLeakMolPerSPa =
              (((plant.seatLpm ?? 0) / 60_000) * (1e5 / (8.314 * 293.15))) / 50e5;
          }),
        ],
      },
      seed,
    );
    const idle = lines.filter(({ estimate: { t } }) => t > startUnixS + offS + 240);
    const rang = (condition: string) => firstShown(idle, condition, 0);
    const unknown = idle.filter(({ estimate }) =>
      estimate.undecided?.some(({ condition }) => condition === "regulator-creep"),
    );
    return { idle, rang, unknown };
  };

  it.each([6, 8])(
    "without snow or leak (plant %i): unknown with its reason while it thaws, no alarm",
    (seed) => {
      const { idle, rang, unknown } = thaws(seed, { snowGrams: 0 });
      const [first, last] = [idle[0]!.truth, idle.at(-1)!.truth];
      // Cold had lowered where it closes: the line rises by more than P/T of all its gas, -20 to 10 °C.
      expect(first.bodyC).toBeLessThan(-10);
      expect((last.lineGaugePa + 1e5) / (first.lineGaugePa + 1e5)).toBeGreaterThan(1.04);
      expect(rang("regulator-creep")).toBeNull();
      expect(rang("line-pressure-high")).toBeNull();
      expect(rang("trapped-line-pressure")).toBeNull();
      expect(unknown.length).toBeGreaterThan(30);
      expect(unknown.length).toBeLessThan(180);
      expect(unknown[0]!.estimate.undecided).toContainEqual(
        expect.objectContaining({ why: expect.stringContaining("CO2 snow or a leaking seat") }),
      );
    },
    60_000,
  );

  it("snow left in the body: urgent within minutes, well before the limit, and nothing called harmless", () => {
    const { idle, rang } = thaws(6, { snowGrams: 1 });
    const shown = rang("regulator-creep");
    expect(shown?.alarm.priority).toBe("high");
    expect(shown?.alarm.advice).toContain("CO2 snow in a body that was cold");
    const at = idle.find(({ estimate }) => estimate.t >= shown!.estimate.t)!.truth;
    expect(at.lineGaugePa).toBeLessThan(0.7 * 8e5);
    expect(idle.at(-1)!.truth.lineGaugePa).toBeGreaterThan(6.5e5);
    expect(JSON.stringify(idle.map(({ estimate }) => estimate.alarms))).not.toContain("Heat alone");
  }, 60_000);

  describe("with no probe on its body", () => {
    const thawS = 1800;
    it.each([0, 1])(
      "%i g of snow in it: unknown with its reason for the thaw, then judged",
      (snowGrams) => {
        const { idle, rang, unknown } = thaws(6, { snowGrams, noProbe: true });
        expect(idle[0]!.truth.bodyC).toBeLessThan(-10);
        const inThaw = idle.filter(({ estimate: { t } }) => t < startUnixS + offS + thawS - 300);
        const creeps = inThaw.flatMap(({ estimate }) =>
          estimate.alarms.map((one) => one.condition),
        );
        expect(creeps).not.toContain("regulator-creep");
        expect(unknown.length).toBeGreaterThan(0.5 * inThaw.length);
        expect(JSON.stringify(inThaw.map(({ estimate }) => estimate.alarms))).not.toContain(
          "Heat alone",
        );
        // What drives it is not known; that it nears the limit is.
        if (snowGrams === 0) expect(rang("line-pressure-high")).toBeNull();
      },
      60_000,
    );

    it("creep of 0.05 bar/min is found within 5 min all the same, behind argon", () => {
      const { minutes, barPerMin } = creepIdleMin(4, { bodyProbe: false });
      expect(Math.abs(barPerMin - 0.05)).toBeLessThan(0.005);
      expect(minutes).not.toBeNull();
      // 5 min: the aim of this project.
      expect(minutes!).toBeLessThanOrEqual(5);
    }, 60_000);

    it("closed in with its line full: the forecast by heat alone waits until it has thawed", () => {
      const { idle, rang } = thaws(6, { snowGrams: 1, noProbe: true, shutS: offS + 60 });
      const shown = rang("trapped-line-pressure");
      expect(shown).not.toBeNull();
      expect(shown!.estimate.t).toBeLessThan(startUnixS + offS + thawS);
      const inThaw = idle.filter(({ estimate: { t } }) => t < startUnixS + offS + thawS);
      expect(JSON.stringify(inThaw.map(({ estimate }) => estimate.alarms))).not.toContain(
        "Heat alone",
      );
      const late = idle.filter(({ estimate: { t } }) => t > startUnixS + offS + thawS + 300);
      expect(JSON.stringify(late.map(({ estimate }) => estimate.alarms))).toContain("Heat alone");
    }, 60_000);
  });

  it("a seat that leaks is found while it still thaws, once the line is above where it rested", () => {
    const shown = thaws(7, { snowGrams: 0, seatLpm: 0.02 }).rang("regulator-creep");
    expect(shown).not.toBeNull();
    expect(shown!.estimate.t).toBeLessThan(startUnixS + offS + 600);
  }, 60_000);
});

describe("a valve closed and a line bled in the evening", () => {
  const closedS = startUnixS + 2 * 3600;
  const openedS = startUnixS + 13 * 3600;
  const night = (morning: (plant: Plant) => void) => {
    const { lines } = simulate(
      {
        name: "evening",
        about: "",
        every: 30,
        hours: 13.6,
        station: tigStation(),
        // Little enough that what the sensor reads at night would be taken for an empty one.
        variation: () => ({ presentBar: 70 }),
        start: (plant: Plant) => plant.setTrueFlow(8),
        actors: (_plant, _reporter, log, seed) => [
          new Cycle(log, seed, [40, 90], [30, 60], 60, 2 * 3600 - 200),
          once(closedS, (plant) => {
            plant.inputs.cylinderValveOpen = false;
          }),
          once(closedS + 20, (plant) => {
            plant.inputs.drops[0]!.torchOpen = true;
          }),
          once(closedS + 120, (plant) => {
            plant.inputs.drops[0]!.torchOpen = false;
          }),
          once(openedS, morning),
          new Cycle(log, seed + 1, [40, 90], [30, 60], 13.2 * 3600),
        ],
      },
      4,
    );
    const between = (from: number, to: number) =>
      lines.filter(({ estimate: { t } }) => t > from && t < to);
    const swaps = lines.flatMap(({ estimate }) =>
      estimate.events.filter(({ event }) => event === "swap"),
    );
    return { dark: between(closedS + 300, openedS), after: between(openedS + 1200, 4e9), swaps };
  };

  it("is good practice: no alarm all night, the valve is closed, the content held with its age", () => {
    const { dark, after, swaps } = night((plant) => {
      plant.inputs.cylinderValveOpen = true;
    });
    expect(dark.length).toBeGreaterThan(1000);
    for (const { estimate, truth } of dark) {
      expect(estimate.alarms).toEqual([]);
      expect(estimate.mode).toBe("valve-closed");
      expect(estimate.content.low!).toBeLessThan(truth.contentLitres);
      expect(estimate.content.high!).toBeGreaterThan(truth.contentLitres);
      expect(Math.abs(estimate.content.ageS! - (estimate.t - closedS))).toBeLessThan(120);
    }
    expect(swaps).toEqual([]);
    expect(after.at(-1)?.estimate.mode).not.toBe("valve-closed");
  }, 60_000);

  it("hides no change: the full cylinder of the morning is recognised, though nobody tells", () => {
    const { after, swaps } = night((plant) => {
      plant.swap({ gaugePa: 195e5, temperatureK: 290 });
      plant.inputs.cylinderValveOpen = true;
    });
    expect(swaps).toHaveLength(1);
    expect(Math.abs(swaps[0]!.t - openedS)).toBeLessThan(120);
    const { estimate, truth } = after.at(-1)!;
    expect(estimate.content.low!).toBeLessThan(truth.contentLitres);
    expect(estimate.content.high!).toBeGreaterThan(truth.contentLitres);
  }, 60_000);
});

describe("a declared purge", () => {
  it("is counted in the pipe's volumes, asked for at twice what was wanted, and nobody is told to close it; what follows it is", () => {
    const fromS = startUnixS + 2400;
    const { lines } = simulate(
      {
        name: "purge",
        about: "",
        every: 10,
        station: tigStation(),
        hours: 5,
        variation: () => ({ presentBar: 190 }),
        start: (plant: Plant) => plant.setTrueFlow(8),
        actors: (_plant, _reporter, log, seed) => [
          new Cycle(log, seed, [30, 90], [20, 60], 60, 2000),
          once(fromS, (plant) => {
            plant.inputs.drops[0]!.torchOpen = true;
            // 0.1 m bore, 6 m long: 47.1 L.
            log.person(fromS, { purge: { boreMm: 100, lengthM: 6, volumes: 6 } });
          }),
          once(fromS + 5400, () => log.person(fromS + 5400, { purge: { end: true } })),
        ],
      },
      5,
    );
    const during = lines.filter(
      ({ estimate }) => estimate.t > fromS + 20 && estimate.t < fromS + 5400,
    );
    let litres = 0;
    let worst = 0;
    for (const { estimate, truth } of during) {
      litres += (truth.flowLpm * 10) / 60;
      const passed = estimate.told?.purge?.volumesPassed ?? Number.NaN;
      if (litres > 47) worst = Math.max(worst, Math.abs(passed / (litres / 47.12) - 1));
    }
    expect(litres / 47.12).toBeGreaterThan(6);
    expect(worst).toBeLessThan(0.1);
    expect(during.at(-1)?.estimate.told?.purge?.volumesWanted).toBe(6);
    const rang = (from: number, to: number) =>
      lines.some(
        ({ estimate }) =>
          estimate.t >= from &&
          estimate.t < to &&
          estimate.alarms.some(({ condition }) => condition === "gas-left-on"),
      );
    // Six volumes take 35 min at 8 L/min; it is asked for at twice that, and nobody is told to close it.
    expect(rang(fromS, fromS + 3900)).toBe(false);
    const asked = lines
      .filter(({ estimate }) => estimate.t < fromS + 5400)
      .flatMap(({ estimate }) => estimate.alarms)
      .filter(({ condition }) => condition === "gas-left-on");
    expect(asked[0]?.title).toMatch(/^Purge wanted 6 volumes, 12.* are through: still wanted\?$/);
    for (const { advice } of asked) expect(advice).not.toMatch(/close the torch/i);
    expect(rang(fromS + 5400, fromS + 5400 + 3600)).toBe(true);
  }, 60_000);
});
