import { temperatureProbe } from "../plant/config.ts";
import {
  changeCylinder,
  cylinderGaugePa,
  gas,
  type Scene,
  type Script,
  span,
  valve,
  weld,
} from "./script.ts";
import { type Story, usualSensors } from "./story.ts";

const workS = 18 * 60;
const shutS = 75 * 60;
const bledS = 6 * 60;
const cycleS = workS + shutS + bledS;
/** Where in the cycle visitors come in: a quarter of an hour after the valve was closed. */
const entryS = workS + 15 * 60;

/** A line left under pressure behind a closed cylinder valve, its hose warming in the sun. */
export const trappedLine: Story = {
  plot: "The cylinder valve is closed, the hose was never bled, and the sun is on it.",
  station: (site) => ({
    schema: 1,
    station: "quay",
    site,
    name: "Quay, railings",
    node: "quay",
    supply: null,
    virtual: true,
    cylinder: {
      gas: "M20-ArC-8",
      composition: { Ar: 0.92, CO2: 0.08 },
      waterVolumeL: 20,
      waterVolumeUPercent: 0.5,
      count: 1,
      filledBar: 200,
      filledC: 15,
      residualBar: 8,
      pricePerFill: 44,
    },
    regulator: {
      stages: 1,
      adjust: "screw",
      deliveryBar: 3.45,
      maxLineBar: 6,
      reliefBar: 8,
      heated: false,
      highSideMl: 20,
    },
    flowDevice: {
      kind: "variable-area",
      scaleGas: { Ar: 0.92, CO2: 0.08 },
      scaleBar: 3.45,
      scaleC: 21,
      scaleReference: "us",
      scaleMin: 5,
      scaleMax: 50,
      valve: "after-tube",
      float: "ball",
      readAt: "float-centre",
      reading: 26,
      readingUnit: "CFH",
    },
    lineTap: "regulator-outlet",
    hose: { lengthM: 8, boreMm: 6.3 },
    sensors: usualSensors,
    procedure: {
      process: "GMAW",
      transfer: "short-circuit",
      material: "carbon steel",
      thicknessMm: 3,
      nozzleBoreMm: 13,
      wireMm: 0.9,
      amps: 120,
      preflowS: 0.2,
      postflowS: 1,
      draughtMs: 0.6,
      standoffMm: 12,
    },
    changeover: { minutes: 15 },
  }),
  variation: () => ({
    presentBar: 130,
    presentC: 16,
    supplyEffectBarPer100: -0.3,
    lockUpBar: 0.45,
    closingTail: 0.1,
    floatFactor: 0.99,
    // The air's probe hangs on the hose, in the same sun.
    sensors: { air: temperatureProbe(0.9) },
    weather: {
      meanC: 16,
      dailySwingK: 3,
      wanderK: 0.5,
      sunHoseK: 30,
      sunBodyK: 10,
      sunCylinderW: 10,
    },
  }),
  reading: 26,
  *play(scene, times) {
    const { inputs } = scene.plant;
    inputs.sunShare = 0;
    // Earlier that day, done properly: a few welds, valve closed, line bled.
    yield* work(scene, scene.t + 480);
    valve(scene, false);
    gas(scene, true);
    yield 40;
    gas(scene, false);
    const first = times.presentS - entryS;
    const whole = Math.floor((first - scene.t) / cycleS);
    yield first - scene.t - Math.max(0, whole) * cycleS;
    for (;;) {
      yield* work(scene, scene.t + workS);
      valve(scene, false);
      yield 8;
      // A last pull at the trigger, let go too early, and off to lunch: the line stays full.
      const pullS = 0.055 * (cylinderGaugePa(scene) / 1e5);
      gas(scene, true);
      yield Math.max(0.8, pullS);
      gas(scene, false);
      const until = scene.t + shutS;
      const sunrise = scene.t + 120;
      while (scene.t < until) {
        inputs.sunShare = Math.min(1, Math.max(0, (scene.t - sunrise) / 2700));
        yield 30;
      }
      gas(scene, true);
      yield 60;
      gas(scene, false);
      inputs.sunShare = 0;
      yield bledS - 60;
    }
  },
};

function* work(scene: Scene, endS: number): Script {
  scene.plant.inputs.sunShare = 0;
  valve(scene, true);
  yield 40;
  if (cylinderGaugePa(scene) < 15e5) {
    yield* changeCylinder(
      scene,
      { gaugePa: 200e5, temperatureK: 288 },
      { swap: { filledBar: 200, filledC: 15 } },
    );
    scene.plant.setReading(26);
  }
  while (scene.t < endS - 60) {
    yield* weld(scene, 0.2, span(scene, 8, 35), 1);
    yield span(scene, 12, 45);
  }
}
