import { someThing, tigHabits } from "./ordinary.ts";
import { once, type Scenario, scenarioStartS } from "./scenario.ts";
import { stationWith } from "./stations.ts";

const hourS = 3600;

/** Stations that break what an estimator may well assume. */
export const hard: Scenario[] = [
  {
    name: "double-lag",
    about: "gas follows the wall half as fast as usual",
    breaks: true,
    hours: 8,
    build: (_seed, random) => ({
      stations: [stationWith()],
      variation: { ...someThing(random), thermalLag: 2.2, presentBar: random.between(60, 190) },
      habits: tigHabits(random),
    }),
  },
  {
    name: "rises-strongly",
    about: "outlet rises by 1.2 bar per 100 bar of fall",
    breaks: true,
    hours: 8,
    build: (_seed, random) => ({
      stations: [stationWith()],
      variation: {
        ...someThing(random),
        supplyEffectBarPer100: -1.2,
        presentBar: random.between(100, 190),
        setAtBar: 190,
      },
      habits: tigHabits(random),
    }),
  },
  {
    name: "falls-strongly",
    about: "outlet falls by 0.9 bar per 100 bar of fall",
    breaks: true,
    hours: 8,
    build: (_seed, random) => ({
      stations: [stationWith()],
      variation: {
        ...someThing(random),
        supplyEffectBarPer100: 0.9,
        presentBar: random.between(100, 190),
        setAtBar: 190,
      },
      habits: tigHabits(random),
    }),
  },
  {
    name: "not-choked",
    about: "delivery so low, and torch so tight, that the restriction is never choked",
    breaks: true,
    hours: 6,
    build: (_seed, random) => ({
      stations: [stationWith({ regulator: { deliveryBar: 1.1 }, flowDevice: { scaleBar: 1.1 } })],
      variation: {
        ...someThing(random),
        supplyEffectBarPer100: random.between(-0.1, 0.05),
        lockUpBar: 0.2,
        torchBackBar: random.between(0.45, 0.65),
        restrictionRatio: random.between(0.2, 0.4),
        presentBar: random.between(60, 190),
      },
      habits: tigHabits(random),
    }),
  },
  {
    name: "offsets-at-the-edge",
    about: "both sensors at the limit of their class, in the worst direction",
    breaks: true,
    hours: 8,
    build: (_seed, random) => ({
      stations: [stationWith()],
      variation: { ...someThing(random), presentBar: random.between(40, 190) },
      habits: tigHabits(random),
      begin: (plant, chance) => {
        const sign = chance.next() < 0.5 ? -1 : 1;
        const { cylinder, lines } = plant.sensors;
        cylinder.zeroErrorPa = sign * 0.9 * 0.005 * 250e5;
        cylinder.spanErrorPa = cylinder.zeroErrorPa;
        const line = lines[0];
        if (line) {
          line.zeroErrorPa = -sign * 0.9 * 0.005 * 10e5;
          line.spanErrorPa = line.zeroErrorPa;
        }
      },
    }),
  },
  {
    name: "coarse-temperature",
    about: "wall temperature in steps of half a degree, loosely strapped",
    breaks: true,
    hours: 8,
    build: (_seed, random) => ({
      stations: [stationWith()],
      variation: { ...someThing(random), presentBar: random.between(60, 190) },
      alter: (config) => {
        if (config.sensors.wall)
          config.sensors.wall = { ...config.sensors.wall, stepK: 0.5, contact: 0.8, lagS: 60 };
      },
      habits: tigHabits(random),
    }),
  },
  {
    name: "probe-falls-off",
    about: "the wall probe falls off in the middle of the day",
    breaks: true,
    hours: 8,
    build: (_seed, random) => ({
      stations: [stationWith()],
      variation: { ...someThing(random), presentBar: random.between(60, 190) },
      habits: tigHabits(random),
      happenings: ({ plant, random: chance }) => [
        once(scenarioStartS + chance.between(2, 5) * hourS, () => {
          if (plant.sensors.wall) plant.sensors.wall.fault = "fallen-off";
        }),
      ],
    }),
  },
  {
    name: "sensor-faults",
    about: "line sensor open for half an hour, later stuck; cylinder sensor noisy, then shorted",
    breaks: true,
    hours: 7,
    build: (_seed, random) => ({
      stations: [stationWith()],
      variation: { ...someThing(random), presentBar: random.between(60, 190) },
      habits: tigHabits(random),
      happenings: ({ plant }) => {
        const { cylinder, lines } = plant.sensors;
        const line = lines[0];
        const at = (hour: number, act: () => void) => once(scenarioStartS + hour * hourS, act);
        return [
          at(1.5, () => {
            if (line) line.fault = "open";
          }),
          at(2, () => {
            if (line) line.fault = null;
          }),
          at(3, () => {
            if (line) line.fault = "stuck";
          }),
          at(3.5, () => {
            if (line) line.fault = null;
          }),
          at(4.5, () => {
            cylinder.fault = "noisy";
          }),
          at(5, () => {
            cylinder.fault = "short";
          }),
          at(5.4, () => {
            cylinder.fault = null;
          }),
        ];
      },
    }),
  },
];
