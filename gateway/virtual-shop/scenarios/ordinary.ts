import type { Random } from "../plant/random.ts";
import type { Scenario } from "./scenario.ts";
import { argon, mig, mix, noLine, stationWith, tube } from "./stations.ts";

/** Weather of a shop, drawn by seed. */
export function shopWeather(random: Random) {
  return {
    meanC: random.between(12, 24),
    dailySwingK: random.between(2, 8),
    wanderK: random.between(0.3, 1.5),
  };
}

/** What differs from one real thing to the next. */
export function someThing(random: Random) {
  return {
    volumeFactor: 1 + 0.004 * random.normal(),
    thermalLag: random.between(0.8, 1.3),
    supplyEffectBarPer100: random.between(-0.6, 0.3),
    lockUpBar: random.between(0.25, 0.6),
    closingTail: random.between(0.05, 0.25),
    floatFactor: 1 + 0.02 * random.normal(),
    orificeFactor: 1 + 0.015 * random.normal(),
    torchBackBar: random.between(0.2, 0.45),
    weather: shopWeather(random),
  };
}

/** Habits of TIG and MIG welders, drawn by seed. */
export function tigHabits(random: Random) {
  return {
    preflowS: 0.5,
    postflowS: random.between(8, 18),
    arcS: [random.between(6, 15), random.between(60, 140)] as [number, number],
    pauseS: [random.between(8, 20), random.between(60, 180)] as [number, number],
  };
}

export function migHabits(random: Random) {
  return {
    preflowS: 0.2,
    postflowS: 1,
    arcS: [random.between(5, 12), random.between(60, 240)] as [number, number],
    pauseS: [random.between(6, 15), random.between(40, 120)] as [number, number],
  };
}

/** Settled at 17 °C: at 15 °C, 200 bar of it pass 250 bar at 55 °C, the range of the sensor. */
const c18 = { Ar: 0.82, CO2: 0.18 };
const c8 = { Ar: 0.92, CO2: 0.08 };
const c25 = { Ar: 0.75, CO2: 0.25 };

/** Ordinary days, by gas, size and what is fitted. */
export const ordinary: Scenario[] = [
  {
    name: "argon-50",
    about: "TIG on 50 L of argon, line sensor, a working day",
    breaks: false,
    hours: 9,
    build: (_seed, random) => ({
      stations: [stationWith()],
      variation: { ...someThing(random), presentBar: random.between(60, 200) },
      habits: tigHabits(random),
    }),
  },
  {
    name: "argon-50-no-line",
    about: "the same without a line sensor",
    breaks: false,
    hours: 9,
    build: (_seed, random) => ({
      stations: [stationWith({ sensors: noLine })],
      variation: { ...someThing(random), presentBar: random.between(60, 200) },
      habits: { ...tigHabits(random), arcS: [60, 300] },
    }),
  },
  {
    name: "argon-50-arc",
    about: "TIG with a current switch on the lead",
    breaks: false,
    hours: 5,
    build: (_seed, random) => ({
      stations: [stationWith()],
      variation: {
        ...someThing(random),
        presentBar: random.between(30, 180),
        sensors: { arc: true },
      },
      habits: tigHabits(random),
    }),
  },
  {
    name: "c18-20-gauge",
    about: "MIG on 20 L of 82/18 through an orifice with a flow gauge, two-stage regulator",
    breaks: false,
    hours: 5,
    build: (_seed, random) => ({
      stations: [
        stationWith({
          cylinder: mix("M21-ArC-18", c18, 20, { filledC: 17 }),
          regulator: { stages: 2, adjust: "screw", deliveryBar: 3.2 },
          flowDevice: {
            kind: "orifice-gauge",
            scaleGas: c18,
            scaleC: 20,
            scaleReadsAt: { bar: 3.2, reading: 15 },
            scaleMax: 30,
            reading: 15,
            readingUnit: "L/min",
          },
          procedure: mig,
        }),
      ],
      variation: {
        ...someThing(random),
        supplyEffectBarPer100: random.between(-0.05, 0.02),
        presentBar: random.between(80, 200),
      },
      habits: migHabits(random),
    }),
  },
  {
    name: "c8-50",
    about: "MIG on 50 L of 92/8",
    breaks: false,
    hours: 8,
    build: (_seed, random) => ({
      stations: [
        stationWith({
          cylinder: mix("M20-ArC-8", c8),
          flowDevice: tube(c8, 14),
          procedure: mig,
        }),
      ],
      variation: { ...someThing(random), presentBar: random.between(50, 200) },
      habits: migHabits(random),
    }),
  },
  {
    name: "c25-49-cfh",
    about: "MIG on 49 L of 75/25 filled to 182 bar, scale in CFH, tube at 50 psi",
    breaks: false,
    hours: 8,
    build: (_seed, random) => ({
      stations: [
        stationWith({
          cylinder: mix("M21-ArC-25", c25, 49, { filledBar: 182, filledC: 21 }),
          flowDevice: tube(c25, 30, {
            scaleReference: "us",
            scaleMin: 5,
            scaleMax: 60,
            readingUnit: "CFH",
          }),
          procedure: mig,
        }),
      ],
      variation: { ...someThing(random), presentBar: random.between(60, 180) },
      habits: { ...migHabits(random), fill: { gaugePa: 182e5, temperatureK: 294.15 } },
    }),
  },
  {
    name: "arhe-50",
    about: "TIG on 75/25 argon and helium",
    breaks: false,
    hours: 8,
    build: (_seed, random) => {
      const gas = { Ar: 0.75, He: 0.25 };
      return {
        stations: [
          stationWith({
            cylinder: mix("I3-ArHe-25", gas),
            flowDevice: tube(gas, 10, { float: "shaped" }),
          }),
        ],
        variation: { ...someThing(random), presentBar: random.between(60, 200) },
        habits: tigHabits(random),
      };
    },
  },
  {
    name: "manifold-4",
    about: "MIG on a manifold of four 50 L cylinders of 82/18",
    breaks: false,
    hours: 10,
    build: (_seed, random) => ({
      stations: [
        stationWith({
          cylinder: mix("M21-ArC-18", c18, 50, { count: 4, filledC: 17 }),
          flowDevice: tube(c18, 16),
          procedure: mig,
        }),
      ],
      variation: { ...someThing(random), presentBar: random.between(60, 200) },
      habits: migHabits(random),
    }),
  },
  {
    name: "hose-tap",
    about: "the line sensor sits after the restriction",
    breaks: false,
    hours: 6,
    build: (_seed, random) => ({
      stations: [stationWith({ lineTap: "hose" })],
      variation: { ...someThing(random), presentBar: random.between(60, 200) },
      habits: tigHabits(random),
    }),
  },
  {
    name: "valve-before-tube",
    about: "needle before the tube: the float stands at hose pressure",
    breaks: false,
    hours: 6,
    build: (_seed, random) => ({
      stations: [
        stationWith({
          flowDevice: tube({ Ar: 1 }, 8, { valve: "before-tube", scaleBar: 0, scaleMax: 20 }),
        }),
      ],
      variation: { ...someThing(random), presentBar: random.between(60, 200) },
      habits: tigHabits(random),
    }),
  },
  {
    name: "small-10",
    about: "10 L of argon, worn down to the residual and changed twice a day",
    breaks: false,
    hours: 9,
    build: (_seed, random) => ({
      stations: [stationWith({ cylinder: argon(10) })],
      variation: { ...someThing(random), presentBar: random.between(30, 120) },
      habits: { ...tigHabits(random), tellsSwap: random.next() < 0.5, swapBelowPa: 9e5 },
    }),
  },
  {
    name: "purging",
    about: "a back-purge: long runs of steady flow, no arc",
    breaks: false,
    hours: 6,
    build: (_seed, random) => ({
      stations: [
        stationWith({
          regulator: { deliveryBar: 2.1 },
          flowDevice: tube({ Ar: 1 }, 10, { scaleBar: 2.1 }),
          procedure: { process: "GTAW", minimumLpm: 7, targetLpm: 10, maximumLpm: 14 },
        }),
      ],
      variation: { ...someThing(random), presentBar: random.between(60, 200), torchBackBar: 0.06 },
      habits: { preflowS: 0.1, postflowS: 0.1, arcS: [500, 2400], pauseS: [200, 900] },
    }),
  },
];
