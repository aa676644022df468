import type { PlantVariation } from "../../gateway/virtual-shop/plant/from-station.ts";
import { createRandom } from "../../gateway/virtual-shop/plant/random.ts";
import type { NodeReporter } from "../../gateway/virtual-shop/plant/reporting.ts";
import type { EventLog } from "../../gateway/virtual-shop/plant/run.ts";
import type { Actor } from "../../gateway/virtual-shop/plant/welder.ts";
import { Cycle, reDial } from "./cycle.ts";
import { hardShops } from "./hard-shops.ts";
import { once, type Scenario, startUnixS } from "./simulate.ts";
import { liquidStation, migStation, tigStation } from "./stations.ts";
import { toldWrong } from "./told-wrong.ts";

/** What differs from cylinder to cylinder and regulator to regulator, drawn from the seed. */
export function varied(seed: number, changes: PlantVariation = {}): PlantVariation {
  const random = createRandom(seed, 77);
  return {
    volumeFactor: 1 + 0.005 * random.normal(),
    thermalLag: random.between(0.75, 1.35),
    floatFactor: random.between(0.93, 1.07),
    supplyEffectBarPer100: random.between(-0.8, -0.2),
    lockUpBar: random.between(0.25, 0.6),
    weather: { meanC: random.between(12, 24), dailySwingK: random.between(4, 9) },
    ...changes,
  };
}

const work = { workS: [1500, 5400] as [number, number] };
const noLine = { sensors: { line: undefined } };

/** The node loses its power, the line is bled, a full cylinder fitted, and the node comes back ten minutes later. */
function swapUnseen(reporter: NodeReporter, log: EventLog, hours: number): Actor[] {
  const t = startUnixS + hours * 3600;
  return [
    once(t, () => reporter.powerOff()),
    once(t + 60, (plant) => {
      plant.inputs.cylinderValveOpen = false;
      plant.inputs.drops[0]!.torchOpen = true;
    }),
    once(t + 150, (plant) => {
      plant.inputs.drops[0]!.torchOpen = false;
    }),
    once(t + 300, (plant) => {
      plant.swap({ gaugePa: 195e5, temperatureK: 288.15 });
      plant.inputs.cylinderValveOpen = true;
      log.event({ t: t + 300, event: "swap" });
    }),
    once(t + 600, () => reporter.powerOn(t + 600)),
  ];
}

function tig(
  name: string,
  about: string,
  rest: Partial<Scenario> & { start?: Scenario["start"]; bar?: number; more?: PlantVariation },
): Scenario {
  const { bar, more, ...others } = rest;
  return {
    name,
    about,
    hours: 6,
    every: 10,
    station: tigStation(),
    variation: (seed) => {
      const base = varied(seed, { presentBar: bar ?? 150 });
      const factor = (base.volumeFactor ?? 1) * (more?.volumeFactor ?? 1);
      return { ...base, ...more, volumeFactor: factor };
    },
    habits: () => work,
    ...others,
  };
}

export const scenarios: Scenario[] = [
  tig("tig-day", "argon 50 L at 150 bar, an ordinary morning", {}),
  tig("every-second", "argon 50 L at 170 bar, a line each second: delays of events", {
    bar: 170,
    hours: 2,
    every: 1,
    habits: undefined,
    actors: (_p, _r, log, seed) => [new Cycle(log, seed, [8, 60], [6, 90])],
  }),
  tig("tig-full", "argon 50 L, full", { bar: 200 }),
  tig("tig-half", "argon 50 L at 105 bar, through the half", { bar: 105 }),
  tig("tig-quarter", "argon 50 L at 58 bar, through the quarter", { bar: 58 }),
  tig("run-out", "argon 50 L from 40 bar to the residual, long welds at 12 L/min", {
    bar: 40,
    hours: 3,
    reading: 12,
    habits: undefined,
    actors: (_p, _r, log, seed) => [new Cycle(log, seed, [300, 700], [40, 120])],
  }),
  tig("steady-gas-on", "argon 50 L, one gas-on from 130 bar for hours", {
    bar: 130,
    hours: 4,
    habits: undefined,
    actors: (_p, _r, log, seed) => [new Cycle(log, seed, [12000, 12500], [600, 700], 600)],
  }),
  {
    ...tig("mig-18", "82/18 50 L at 140 bar", { bar: 140 }),
    station: migStation(),
  },
  {
    ...tig("mig-25", "75/25 50 L at 160 bar", { bar: 160 }),
    station: migStation({
      cylinder: { gas: "M21-ArC-25", composition: { Ar: 0.75, CO2: 0.25 } },
      flowDevice: { scaleGas: { Ar: 0.75, CO2: 0.25 } },
    }),
  },
  {
    ...tig("mig-8", "92/8 50 L at 120 bar", { bar: 120 }),
    station: migStation({
      cylinder: { gas: "M20-ArC-8", composition: { Ar: 0.92, CO2: 0.08 } },
      flowDevice: { scaleGas: { Ar: 0.92, CO2: 0.08 } },
    }),
  },
  {
    ...tig("argon-helium", "75/25 argon/helium 50 L at 150 bar, argon scale", { bar: 150 }),
    station: tigStation({
      cylinder: { gas: "I3-ArHe-25", composition: { Ar: 0.75, He: 0.25 } },
    }),
  },
  tig("no-line-long", "no line sensor, welds of 6 to 15 minutes", {
    station: tigStation(noLine),
    every: 5,
    habits: undefined,
    actors: (_p, _r, log, seed) => [new Cycle(log, seed, [400, 900], [300, 900])],
  }),
  tig("no-line-short", "no line sensor, ordinary welds of seconds to a minute", {
    station: tigStation(noLine),
    every: 5,
  }),
  {
    ...tig("no-line-mig", "no line sensor, 82/18 at 14 L/min, spells of 3 to 10 minutes", {
      every: 5,
      habits: undefined,
      actors: (_p, _r, log, seed) => [new Cycle(log, seed, [180, 600], [120, 600])],
    }),
    station: migStation(noLine),
  },
  {
    ...tig(
      "carbon-dioxide",
      "20 kg of liquid CO2, part-used, 12 L/min through the end of its liquid",
      {
        hours: 7,
        habits: undefined,
        more: { presentKg: 7.5 },
        actors: (_p, _r, log, seed) => [new Cycle(log, seed, [60, 240], [30, 90])],
      },
    ),
    station: liquidStation(7.5, { regulator: { heated: true } }),
  },
  tig("small-cylinder", "argon 10 L at 150 bar", {
    station: tigStation({ cylinder: { waterVolumeL: 10 } }),
    hours: 3,
  }),
  tig("manifold", "four 50 L cylinders on one header", {
    station: tigStation({ cylinder: { count: 4 } }),
  }),
  {
    ...tig("orifice-gauge", "82/18 through an orifice gauge", { bar: 130 }),
    station: migStation({
      flowDevice: {
        kind: "orifice-gauge",
        scaleGas: { Ar: 0.82, CO2: 0.18 },
        scaleReadsAt: { bar: 3.45, reading: 14 },
        reading: 14,
        scaleBar: undefined,
        valve: undefined,
        float: undefined,
        readAt: undefined,
      },
    }),
  },
  tig("two-stage", "argon 50 L, two-stage regulator", {
    station: tigStation({ regulator: { stages: 2 } }),
    more: { supplyEffectBarPer100: -0.01, lockUpBar: 0.25 },
  }),
  tig("evenings", "valve closed and line bled at night, opened in the morning", {
    hours: 34,
    habits: () => ({ ...work, closesEvenings: true, toH: 12 }),
  }),
  tig("swap", "runs down from 28 bar, a full cylinder is fitted and told", {
    bar: 28,
    hours: 6,
    habits: () => ({ ...work, swapBelowPa: 12e5, arcS: [60, 240] }),
  }),
  tig("swap-untold", "runs down from 28 bar, a part-used cylinder is fitted and nobody says so", {
    bar: 28,
    hours: 6,
    habits: () => ({
      ...work,
      swapBelowPa: 12e5,
      arcS: [60, 240],
      tellsSwap: false,
      fill: { gaugePa: 120e5, temperatureK: 290 },
    }),
  }),
  tig("swap-node-off", "another cylinder is fitted while the node is without power", {
    bar: 35,
    hours: 5,
    habits: undefined,
    more: { supplyEffectBarPer100: -0.16, lockUpBar: 0.25 },
    actors: (_p, reporter, log, seed) => [
      new Cycle(log, seed, [20, 180], [40, 300], 300, 2.4 * 3600),
      ...swapUnseen(reporter, log, 2.5),
      new Cycle(log, seed + 500, [20, 180], [40, 300], 2.8 * 3600),
    ],
  }),
  tig("node-off", "node without power for an hour while welding goes on", {
    actors: (_p, reporter, _log) => [
      once(startUnixS + 2.5 * 3600, () => reporter.powerOff()),
      once(startUnixS + 3.5 * 3600, () => reporter.powerOn(startUnixS + 3.5 * 3600)),
    ],
  }),
  tig("link-down", "network down for 40 minutes, the backlog arrives late", {
    actors: (_p, reporter) => [
      once(startUnixS + 2.5 * 3600, () => {
        reporter.linkDown = true;
      }),
      once(startUnixS + 2.5 * 3600 + 2400, () => {
        reporter.linkDown = false;
      }),
    ],
  }),
  tig("ragged-packs", "packs repeated, late and out of order", {
    node: { repeatShare: 0.03, lateShare: 0.03, lateS: 60 },
  }),
  tig("re-dial-up", "float turned up by 15 % after three hours", {
    every: 5,
    habits: undefined,
    actors: (_p, _r, log, seed) => [
      new Cycle(log, seed, [120, 400], [30, 150]),
      reDial(log, 3, 1.15),
    ],
  }),
  tig("re-dial-down", "float turned down by 15 % after three hours", {
    every: 5,
    habits: undefined,
    actors: (_p, _r, log, seed) => [
      new Cycle(log, seed, [120, 400], [30, 150]),
      reDial(log, 3, 1 / 1.15),
    ],
  }),
  tig("noisy", "cylinder sensor with 0.05 bar of noise, no hysteresis", {
    alter: (config) => {
      config.sensors.cylinder.noisePa = 5000;
      config.sensors.cylinder.hysteresis = 0;
    },
  }),
  tig("short-welds", "welds of 10 s to 3 minutes, cylinder sensor with 0.015 % of hysteresis", {
    habits: undefined,
    alter: (config) => {
      config.sensors.cylinder.hysteresis = 0.00015;
    },
    actors: (_p, _r, log, seed) => [new Cycle(log, seed, [10, 180], [20, 240])],
  }),
  tig("leak", "0.1 L/min before the seat, idle night with a swing of 15 K", {
    hours: 12,
    every: 60,
    more: { cylinderLeakLpm: 0.1 * (100 / 150) },
    habits: undefined,
    actors: (_p, _r, log, seed) => [new Cycle(log, seed, [60, 200], [60, 200], 300, 3600)],
    alter: swing,
  }),
  tig("no-leak", "the same night without a leak", {
    hours: 12,
    every: 60,
    habits: undefined,
    actors: (_p, _r, log, seed) => [new Cycle(log, seed, [60, 200], [60, 200], 300, 3600)],
    alter: swing,
  }),
  tig("draughty", "wall probe swings by up to 0.35 K, thermal lag 0.7 to 1.7 times", {
    breaks: true,
    alter: (config, seed) => {
      const random = createRandom(seed, 78);
      config.cylinder.thermalLag = random.between(0.7, 1.7);
      if (config.sensors.wall === null) return;
      config.sensors.wall.draughtK = random.between(0.1, 0.35);
      config.sensors.wall.draughtPeriodS = random.between(2400, 7200);
    },
  }),
  tig("slow-wall", "thermal lag twice as long", { breaks: true, more: { thermalLag: 2 } }),
  tig("sagging", "supply-pressure effect of the other sign", {
    breaks: true,
    bar: 110,
    more: { supplyEffectBarPer100: 0.8, sagBar: 0.5 },
  }),
  tig("not-choked", "delivery at 1.4 bar: the restriction is not choked, critical ratio 0.25", {
    breaks: true,
    station: tigStation({
      regulator: { deliveryBar: 1.4 },
      flowDevice: { scaleBar: 1.4 },
    }),
    more: { restrictionRatio: 0.25, lockUpBar: 0.2 },
  }),
  tig("edge-of-class", "cylinder sensor at the edge of its class", {
    breaks: true,
    alter: (config, seed) => {
      config.sensors.cylinder.zeroShare = seed % 2 === 0 ? 1.17 : -1.17;
      config.sensors.cylinder.spanShare = seed % 2 === 0 ? 1.17 : -1.17;
    },
  }),
  tig("coarse-probe", "wall temperature in steps of 0.5 K", {
    breaks: true,
    alter: (config) => {
      if (config.sensors.wall) config.sensors.wall.stepK = 0.5;
    },
  }),
  tig(
    "probe-off",
    "wall probe falls off in the morning, and is strapped on again three hours later",
    {
      breaks: true,
      habits: undefined,
      actors: (_p, _r, log, seed) => [
        new Cycle(log, seed, [60, 300], [30, 150]),
        once(startUnixS + (1.2 + 0.1 * seed) * 3600, (plant) => {
          if (plant.sensors.wall) plant.sensors.wall.fault = "fallen-off";
        }),
        once(startUnixS + (4.2 + 0.1 * seed) * 3600, (plant) => {
          if (plant.sensors.wall) plant.sensors.wall.fault = null;
        }),
      ],
    },
  ),
  tig("hose-tap", "line pressure tapped after the restriction", {
    breaks: true,
    station: tigStation({ lineTap: "hose" }),
  }),
  ...toldWrong(tig),
  ...hardShops(tig),
];

/** A day and night that differ by 15 K. */
function swing(config: Parameters<NonNullable<Scenario["alter"]>>[0]): void {
  config.weather.dailySwingK = 15;
}
