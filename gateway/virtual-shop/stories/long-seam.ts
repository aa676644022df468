import { changeCylinder, cylinderGaugePa, span, weld } from "./script.ts";
import { hallWeather, type Story, usualSensors } from "./story.ts";

/** A small cylinder that will not last the keel seam that has been started on it. */
export const longSeam: Story = {
  plot: "The keel seam still needs an hour of arc, and the cylinder has about half of that.",
  station: (site) => ({
    schema: 1,
    station: "slipway",
    site,
    name: "Slipway, keel seam",
    node: "slipway",
    supply: null,
    virtual: true,
    place: { roomM3: 4000, airChangesPerHour: 6, confined: false },
    cylinder: {
      gas: "M21-ArC-18",
      composition: { Ar: 0.82, CO2: 0.18 },
      waterVolumeL: 20,
      waterVolumeUPercent: 0.5,
      count: 1,
      filledBar: 200,
      filledC: 20,
      residualBar: 10,
      pricePerFill: 48,
    },
    regulator: {
      stages: 2,
      adjust: "screw",
      deliveryBar: 3.5,
      maxLineBar: 8,
      reliefBar: 10,
      heated: false,
      highSideMl: 18,
    },
    flowDevice: {
      kind: "orifice-gauge",
      scaleGas: { Ar: 0.82, CO2: 0.18 },
      scaleC: 20,
      scaleReadsAt: { bar: 3.5, reading: 20 },
      scaleMin: 6,
      scaleMax: 32,
      reading: 20,
      readingUnit: "L/min",
    },
    lineTap: "regulator-outlet",
    hose: { lengthM: 6, boreMm: 6.3 },
    sensors: usualSensors,
    procedure: {
      process: "GMAW",
      transfer: "spray",
      material: "carbon steel",
      thicknessMm: 10,
      nozzleBoreMm: 19,
      wireMm: 1.2,
      amps: 260,
      joint: "butt",
      preflowS: 0.3,
      postflowS: 1,
      draughtMs: 0.4,
      standoffMm: 16,
    },
    changeover: { minutes: 12 },
  }),
  variation: (times) => ({
    // About half an hour of gas is left when visitors come in.
    presentBar: 42 + ((times.presentS - times.startS) / 3600) * 43,
    presentC: 16,
    supplyEffectBarPer100: -0.03,
    lockUpBar: 0.35,
    orificeFactor: 0.985,
    sensors: { arc: true },
    weather: { ...hallWeather, meanC: 14 },
  }),
  reading: 20,
  *play(scene, times) {
    const seam = { plannedArcMinutes: 90, starts: 15 };
    let told = false;
    for (;;) {
      if (!told && scene.t > times.presentS - 1800) {
        scene.log.person(scene.t, { job: { job: "keel seam", ...seam } });
        told = true;
      }
      yield* weld(scene, 0.3, span(scene, 150, 420), 1);
      if (cylinderGaugePa(scene) < 9e5) {
        yield* changeCylinder(
          scene,
          { gaugePa: 95e5, temperatureK: 289 },
          { swap: { filledBar: 95, filledC: 16 } },
        );
        scene.log.person(scene.t, { job: { job: "next keel seam", ...seam } });
      }
      yield span(scene, 35, 110);
    }
  },
};
