import { migHabits, shopWeather, someThing, tigHabits } from "./ordinary.ts";
import { once, type Scenario, scenarioStartS } from "./scenario.ts";
import { argon, mig, stationWith, tube } from "./stations.ts";

const hourS = 3600;

const co2 = (more: Record<string, unknown> = {}) => ({
  gas: "C1-C",
  composition: { CO2: 1 },
  waterVolumeL: 29.5,
  waterVolumeUPercent: 0.5,
  count: 1,
  filledKg: 20,
  residualBar: 5,
  ...more,
});

/** Things that happen in a shop. */
export const telling: Scenario[] = [
  {
    name: "re-dials",
    about: "the needle is turned by 15 % and more, three times a day",
    breaks: false,
    hours: 7,
    build: (_seed, random) => ({
      stations: [stationWith()],
      variation: { ...someThing(random), presentBar: random.between(80, 200) },
      habits: tigHabits(random),
      happenings: ({ plant, log, random: chance }) =>
        [1.7, 3.4, 5.1].map((hour) =>
          once(scenarioStartS + hour * hourS + chance.between(0, 900), () => {
            const input = plant.inputs.drops[0];
            if (!input) return;
            const ratio =
              chance.next() < 0.5 ? chance.between(1.15, 1.35) : chance.between(0.7, 0.85);
            input.needle *= ratio;
            log[0]?.event({ t: plant.t, event: "re-dial", ratio });
          }),
        ),
    }),
  },
  {
    name: "swaps-untold",
    about: "cylinders changed without a word, some of them part-used, once with the node off",
    breaks: false,
    hours: 9,
    build: (_seed, random) => {
      const bar = random.between(70, 170);
      return {
        stations: [stationWith({ cylinder: argon(20) })],
        variation: { ...someThing(random), presentBar: random.between(25, 60) },
        habits: {
          ...tigHabits(random),
          tellsSwap: false,
          swapBelowPa: random.between(8, 20) * 1e5,
          fill: { gaugePa: bar * 1e5, temperatureK: 290 },
        },
        happenings: ({ plant, reporters, log, random: chance }) => {
          const off = scenarioStartS + chance.between(4, 6) * hourS;
          return [
            once(off, () => {
              for (const reporter of reporters) reporter.powerOff();
              log[0]?.event({ t: off, event: "node-off" });
            }),
            once(off + 400, () => {
              plant.swap({ gaugePa: chance.between(60, 190) * 1e5, temperatureK: 289 });
              log[0]?.event({ t: off + 400, event: "swap" });
            }),
            once(off + 900, () => {
              for (const reporter of reporters) reporter.powerOn(off + 900);
              log[0]?.event({ t: off + 900, event: "node-on" });
            }),
          ];
        },
      };
    },
  },
  {
    name: "evenings-closed",
    about: "valve closed and line bled every evening, opened in the morning; two days and nights",
    breaks: false,
    hours: 48,
    build: (_seed, random) => ({
      stations: [stationWith()],
      variation: {
        ...someThing(random),
        presentBar: random.between(60, 190),
        weather: { ...shopWeather(random), dailySwingK: random.between(6, 14) },
      },
      habits: {
        ...tigHabits(random),
        workS: [900, 2400],
        breakS: [900, 3600],
        closesEvenings: true,
      },
    }),
  },
  {
    name: "cold-night",
    about: "valve open over a night that cools by 15 K, nothing leaks",
    breaks: false,
    hours: 24,
    build: (_seed, random) => ({
      stations: [stationWith()],
      variation: {
        ...someThing(random),
        presentBar: random.between(60, 190),
        weather: { ...shopWeather(random), meanC: random.between(4, 14), dailySwingK: 15 },
      },
      habits: { ...tigHabits(random), workS: [600, 1800], breakS: [1800, 4500] },
    }),
  },
  {
    name: "cylinder-leak",
    about: "0.1 L/min out of the valve's connection, over such a night",
    breaks: false,
    hours: 24,
    build: (_seed, random) => ({
      stations: [stationWith()],
      variation: {
        ...someThing(random),
        presentBar: random.between(90, 190),
        cylinderLeakLpm: random.between(0.08, 0.14),
        weather: { ...shopWeather(random), meanC: random.between(4, 14), dailySwingK: 15 },
      },
      habits: { ...tigHabits(random), workS: [600, 1800], breakS: [1800, 4500] },
    }),
  },
  {
    name: "line-leak",
    about: "0.1 L/min out of the hose, valve open, a working day and a night",
    breaks: false,
    hours: 24,
    build: (_seed, random) => ({
      stations: [stationWith()],
      variation: {
        ...someThing(random),
        presentBar: random.between(90, 190),
        lineLeakLpm: random.between(0.07, 0.15),
      },
      habits: { ...tigHabits(random), workS: [600, 1800], breakS: [1800, 4500] },
    }),
  },
  {
    name: "sun",
    about: "outdoors: sun on cylinder and hose, wide swing",
    breaks: false,
    hours: 12,
    build: (_seed, random) => ({
      stations: [stationWith({ hose: { lengthM: 8, boreMm: 6.3 } })],
      variation: {
        ...someThing(random),
        presentBar: random.between(60, 180),
        weather: {
          meanC: random.between(14, 24),
          dailySwingK: random.between(10, 16),
          wanderK: 2,
          sunHoseK: random.between(12, 28),
          sunBodyK: random.between(4, 12),
          sunCylinderW: random.between(40, 120),
        },
      },
      habits: { ...tigHabits(random), workS: [900, 2400], breakS: [900, 3600] },
    }),
  },
  {
    name: "co2-liquid",
    about: "CO2 with liquid, past the moment when it is gone, heated regulator",
    breaks: false,
    hours: 9,
    build: (_seed, random) => {
      const presentKg = Math.round(random.between(5.5, 8) * 100) / 100;
      return {
        stations: [
          stationWith({
            cylinder: co2({ presentKg, asOf: scenarioStartS }),
            regulator: { deliveryBar: 3.2, heated: true },
            flowDevice: tube({ CO2: 1 }, 15, { scaleBar: 3.2 }),
            procedure: mig,
          }),
        ],
        variation: { ...someThing(random), presentKg, setAtBar: 50 },
        habits: { ...migHabits(random), swapBelowPa: 6e5, fill: { massKg: 20 } },
      };
    },
  },
  {
    name: "co2-cold-body",
    about:
      "CO2 without a heater in a cold shop: the body ices, the delivery drifts, snow after gas-off",
    breaks: true,
    hours: 5,
    build: (_seed, random) => {
      const presentKg = Math.round(random.between(12, 19) * 100) / 100;
      return {
        stations: [
          stationWith({
            cylinder: co2({ presentKg, asOf: scenarioStartS }),
            regulator: { deliveryBar: 3.2 },
            flowDevice: tube({ CO2: 1 }, 18, { scaleBar: 3.2, scaleMax: 30 }),
            procedure: mig,
          }),
        ],
        variation: {
          ...someThing(random),
          presentKg,
          setAtBar: 50,
          icingBelowC: -8,
          icingPerK: 0.015,
          snowGrams: 1,
          weather: { ...shopWeather(random), meanC: random.between(3, 9) },
        },
        habits: { ...migHabits(random), arcS: [60, 900] },
      };
    },
  },
  {
    name: "running-out",
    about: "used to the last: the regulator can no longer hold the flow before the change",
    breaks: false,
    hours: 5,
    build: (_seed, random) => ({
      stations: [stationWith({ cylinder: argon(50, { residualBar: 5 }) })],
      variation: {
        ...someThing(random),
        presentBar: random.between(16, 30),
        supplyEffectBarPer100: 0.4,
        sagBar: random.between(1, 3),
        sagFromBar: random.between(30, 60),
      },
      habits: { ...tigHabits(random), swapBelowPa: 2e5 },
    }),
  },
  {
    name: "two-drops",
    about: "two torches on one bank",
    breaks: false,
    hours: 6,
    build: (_seed, random) => {
      const one = stationWith({ cylinder: argon(50, { count: 2 }) });
      const drop = (name: string, reading: number) => ({
        ...stationWith({ flowDevice: tube({ Ar: 1 }, reading) }),
        station: name,
        node: name,
        cylinder: null,
        supply: "bank",
      });
      const drops = [drop("drop-1", 8), drop("drop-2", 11)];
      return {
        stations: drops.map((d, i) => (i === 0 ? { ...d, cylinder: one.cylinder } : d)),
        setup: {
          supply: {
            schema: 1 as const,
            supply: "bank",
            site: one.site,
            node: "drop-1",
            kind: "bank" as const,
            cylinder: one.cylinder as NonNullable<typeof one.cylinder>,
            regulator: one.regulator ?? null,
            sensors: one.sensors,
            drops: ["drop-1", "drop-2"],
          },
          stations: drops,
        },
        variation: { ...someThing(random), presentBar: random.between(60, 190), headerMl: 900 },
        habits: tigHabits(random),
      };
    },
  },
  {
    name: "rough-link",
    about: "packs late, repeated, out of order, and the link down for twenty minutes",
    breaks: false,
    hours: 6,
    build: (_seed, random) => ({
      stations: [stationWith()],
      variation: { ...someThing(random), presentBar: random.between(60, 190) },
      habits: tigHabits(random),
      node: { repeatShare: 0.03, lateShare: 0.05, lateS: 90 },
      happenings: ({ reporters, random: chance }) => {
        const from = scenarioStartS + chance.between(1.5, 4) * hourS;
        const set = (down: boolean) => () => {
          for (const reporter of reporters) reporter.linkDown = down;
        };
        return [once(from, set(true)), once(from + 1200, set(false))];
      },
    }),
  },
];
