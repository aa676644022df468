import { changeCylinder, cylinderGaugePa, span, weld } from "./script.ts";
import { hallWeather, type Story, type StoryTimes, usualSensors } from "./story.ts";

/** Mass at which the last liquid goes in this cylinder at the hall's temperature, kg. */
const lastLiquidKg = 4;
const kgPerHour = 0.85;

function startKg(times: StoryTimes): number {
  const hours = (times.presentS - times.startS) / 3600;
  return Math.round((lastLiquidKg + kgPerHour * (hours + 0.15)) * 100) / 100;
}

/** CO2 near the end of its liquid: the gauge has stood still for days and starts to fall now. */
export const lastLiquid: Story = {
  plot: "The gauge still says nearly 50 bar, as it has all along, but the liquid is about gone.",
  station: (site, times) => ({
    schema: 1,
    station: "frame-shop",
    site,
    name: "Frame shop, CO2",
    node: "frame-shop",
    supply: null,
    virtual: true,
    place: { roomM3: 1200, airChangesPerHour: 4, confined: false },
    cylinder: {
      gas: "C1-C",
      composition: { CO2: 1 },
      waterVolumeL: 29.5,
      waterVolumeUPercent: 0.5,
      count: 1,
      filledKg: 20,
      presentKg: startKg(times),
      asOf: Math.floor(times.startS),
      residualBar: 5,
      pricePerFill: 42,
    },
    regulator: {
      stages: 1,
      adjust: "screw",
      deliveryBar: 3.2,
      maxLineBar: 8,
      reliefBar: 10,
      heated: true,
      highSideMl: 20,
    },
    flowDevice: {
      kind: "variable-area",
      scaleGas: { CO2: 1 },
      scaleBar: 3.2,
      scaleC: 20,
      scaleReference: "metric20",
      scaleMin: 5,
      scaleMax: 30,
      valve: "after-tube",
      float: "ball",
      readAt: "float-centre",
      reading: 16.5,
      readingUnit: "L/min",
    },
    lineTap: "regulator-outlet",
    hose: { lengthM: 4, boreMm: 6.3 },
    sensors: usualSensors,
    procedure: {
      process: "FCAW-G",
      material: "carbon steel",
      thicknessMm: 8,
      nozzleBoreMm: 16,
      wireMm: 1.2,
      amps: 200,
      joint: "fillet",
      preflowS: 0.3,
      postflowS: 1,
      draughtMs: 0.3,
      standoffMm: 16,
    },
    changeover: { minutes: 10 },
  }),
  variation: () => ({
    setAtBar: 50,
    supplyEffectBarPer100: -0.6,
    lockUpBar: 0.45,
    floatFactor: 0.985,
    sensors: { arc: true },
    weather: hallWeather,
  }),
  reading: 16.5,
  *play(scene) {
    for (let n = 1; ; n += 1) {
      yield* weld(scene, 0.3, span(scene, 20, 80), 1);
      if (cylinderGaugePa(scene) < 7e5) {
        yield* changeCylinder(scene, { massKg: 5.2 }, { swap: { filledKg: 20, presentKg: 5.2 } });
        scene.plant.setReading(16.5);
      }
      yield n % 16 === 0 ? span(scene, 150, 260) : span(scene, 30, 85);
    }
  },
};
