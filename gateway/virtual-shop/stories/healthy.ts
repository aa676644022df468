import { changeCylinder, cylinderGaugePa, span, weld } from "./script.ts";
import { hallWeather, type Story, usualSensors } from "./story.ts";

/** Nothing wrong: two-stage regulator, the right tube for the gas, flow in the middle of its window. */
export const healthy: Story = {
  plot: "All is well: flow inside its window, more than a day's gas in the cylinder.",
  station: (site) => ({
    schema: 1,
    station: "prop-shop",
    site,
    name: "Propeller shop, TIG",
    node: "prop-shop",
    supply: null,
    virtual: true,
    place: { roomM3: 600, airChangesPerHour: 3, confined: false },
    cylinder: {
      gas: "I3-ArHe-25",
      composition: { Ar: 0.75, He: 0.25 },
      waterVolumeL: 50,
      waterVolumeUPercent: 0.5,
      count: 1,
      filledBar: 200,
      filledC: 15,
      residualBar: 10,
      pricePerFill: 160,
    },
    regulator: {
      stages: 2,
      adjust: "preset",
      deliveryBar: 3.5,
      maxLineBar: 8,
      reliefBar: 12,
      heated: false,
      highSideMl: 18,
    },
    flowDevice: {
      kind: "variable-area",
      scaleGas: { Ar: 0.75, He: 0.25 },
      scaleBar: 3.5,
      scaleC: 20,
      scaleReference: "metric20",
      scaleMin: 3,
      scaleMax: 20,
      valve: "after-tube",
      float: "shaped",
      readAt: "float-widest",
      reading: 9.5,
      readingUnit: "L/min",
    },
    lineTap: "regulator-outlet",
    hose: { lengthM: 4, boreMm: 6 },
    sensors: usualSensors,
    procedure: {
      process: "GTAW",
      material: "aluminium",
      cup: 8,
      gasLens: true,
      amps: 180,
      polarity: "AC",
      joint: "butt",
      preflowS: 0.8,
      postflowS: 18,
      draughtMs: 0.2,
      standoffMm: 6,
    },
    changeover: { minutes: 10 },
  }),
  variation: () => ({
    presentBar: 140,
    presentC: 17,
    supplyEffectBarPer100: -0.03,
    lockUpBar: 0.3,
    floatFactor: 1,
    sensors: { arc: true },
    weather: hallWeather,
  }),
  reading: 9.5,
  *play(scene) {
    for (let n = 1; ; n += 1) {
      yield* weld(scene, 0.8, span(scene, 30, 110), 18);
      if (cylinderGaugePa(scene) < 70e5) {
        yield* changeCylinder(scene, { gaugePa: 200e5, temperatureK: 288 }, { swap: {} });
      }
      yield n % 18 === 0 ? span(scene, 150, 280) : span(scene, 20, 75);
    }
  },
};
