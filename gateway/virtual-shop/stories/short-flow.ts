import { changeCylinder, cylinderGaugePa, gas, span, weld } from "./script.ts";
import { hallWeather, type Story, usualSensors } from "./story.ts";

/**
 * A float that reads right while the flow is short: the single-stage regulator sags on a cylinder
 * that is nearly down, so the tube runs far below the pressure it was made for.
 */
export const shortFlow: Story = {
  plot: "The float stands at 8, but on the nearly empty cylinder the regulator sags and less than 6 L/min passes.",
  station: (site) => ({
    schema: 1,
    station: "hull-bay",
    site,
    name: "Hull bay, TIG aluminium",
    node: "hull-bay",
    supply: null,
    virtual: true,
    place: { roomM3: 900, airChangesPerHour: 3, confined: false },
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
      deliveryBar: 3.45,
      maxLineBar: 8,
      reliefBar: 12,
      heated: false,
      highSideMl: 20,
    },
    flowDevice: {
      kind: "variable-area",
      scaleGas: { Ar: 1 },
      scaleBar: 3.45,
      scaleC: 21,
      scaleReference: "metric20",
      scaleMin: 2,
      scaleMax: 16,
      valve: "after-tube",
      float: "ball",
      readAt: "float-centre",
      reading: 8,
      readingUnit: "L/min",
    },
    lineTap: "regulator-outlet",
    hose: { lengthM: 4, boreMm: 6 },
    sensors: usualSensors,
    procedure: {
      process: "GTAW",
      material: "aluminium",
      thicknessMm: 4,
      cup: 7,
      gasLens: false,
      amps: 150,
      polarity: "AC",
      joint: "fillet",
      preflowS: 0.5,
      postflowS: 15,
      draughtMs: 0.2,
      standoffMm: 5,
    },
    changeover: { minutes: 10 },
  }),
  variation: () => ({
    presentBar: 31,
    presentC: 17,
    supplyEffectBarPer100: 0.45,
    sagBar: 3.2,
    sagFromBar: 60,
    lockUpBar: 0.4,
    floatFactor: 1.01,
    weather: hallWeather,
  }),
  reading: 8,
  *play(scene) {
    const { plant } = scene;
    for (let n = 1; ; n += 1) {
      yield* weld(scene, 0.5, span(scene, 25, 80), 15);
      if (n % 10 === 0) {
        // He sees the float sunk by a hair and turns it back up to 8.
        gas(scene, true);
        yield 6;
        plant.setReading(8);
        yield 4;
        gas(scene, false);
      }
      if (cylinderGaugePa(scene) < 12e5) {
        yield* changeCylinder(
          scene,
          { gaugePa: 27e5, temperatureK: 290 },
          { swap: { filledBar: 27, filledC: 17 } },
        );
        plant.setReading(8);
      }
      yield n % 15 === 0 ? span(scene, 120, 240) : span(scene, 15, 60);
    }
  },
};
