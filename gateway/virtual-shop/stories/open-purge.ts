import { changeCylinder, cylinderGaugePa, gas, type Scene, type Script, span } from "./script.ts";
import { hallWeather, type Story, usualSensors } from "./story.ts";

const leftOpenS = 150 * 60;
const ordinaryS = 110 * 60;
/** Visitors come in when it has been open for so long. */
const openForS = 42 * 60;

/** A back-purge on stainless pipe: ten minutes each, as a rule, and then one that nobody shuts. */
export const openPurge: Story = {
  plot: "Purges here take ten minutes; this one has been running for forty, and nobody has said why.",
  station: (site) => ({
    schema: 1,
    station: "pipe-purge",
    site,
    name: "Pipe shop, back-purge",
    node: "pipe-purge",
    supply: null,
    virtual: true,
    place: { roomM3: 140, airChangesPerHour: 1, confined: false },
    cylinder: {
      gas: "I1-Ar",
      composition: { Ar: 1 },
      waterVolumeL: 50,
      waterVolumeUPercent: 0.5,
      count: 1,
      filledBar: 200,
      filledC: 15,
      residualBar: 10,
      pricePerFill: 85,
    },
    regulator: {
      stages: 1,
      adjust: "preset",
      deliveryBar: 2.1,
      maxLineBar: 6,
      reliefBar: 10,
      heated: false,
      highSideMl: 20,
    },
    flowDevice: {
      kind: "variable-area",
      scaleGas: { Ar: 1 },
      scaleBar: 2.1,
      scaleC: 21,
      scaleReference: "metric20",
      scaleMin: 3,
      scaleMax: 25,
      valve: "after-tube",
      float: "shaped",
      readAt: "float-widest",
      reading: 10,
      readingUnit: "L/min",
    },
    lineTap: "regulator-outlet",
    hose: { lengthM: 5, boreMm: 6.3 },
    sensors: usualSensors,
    procedure: {
      process: "GTAW",
      material: "stainless",
      thicknessMm: 3,
      joint: "butt, pipe, back-purge",
      minimumLpm: 7,
      targetLpm: 10,
      maximumLpm: 14,
    },
    changeover: { minutes: 10 },
  }),
  variation: () => ({
    presentBar: 150,
    presentC: 17,
    supplyEffectBarPer100: -0.4,
    lockUpBar: 0.35,
    torchBackBar: 0.08,
    floatFactor: 1.005,
    weather: hallWeather,
  }),
  reading: 10,
  *play(scene, times) {
    let until = times.presentS - openForS;
    for (;;) {
      yield* ordinaryPurges(scene, until);
      gas(scene, true);
      yield leftOpenS;
      gas(scene, false);
      until = scene.t + ordinaryS;
    }
  },
};

function* ordinaryPurges(scene: Scene, untilS: number): Script {
  while (scene.t < untilS - 900) {
    if (cylinderGaugePa(scene) < 40e5) {
      yield* changeCylinder(scene, { gaugePa: 200e5, temperatureK: 288 }, { swap: {} });
      scene.plant.setReading(10);
    }
    gas(scene, true);
    yield span(scene, 500, 720);
    gas(scene, false);
    yield span(scene, 240, 540);
  }
  yield Math.max(1, untilS - scene.t);
}
