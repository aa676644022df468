import {
  type PlantVariation,
  plantConfigFor,
} from "@leeward/gateway/virtual-shop/plant/from-station.ts";
import { createPlant, type Plant } from "@leeward/gateway/virtual-shop/plant/plant.ts";
import { type StationDocument, stationSchema } from "@leeward/shared-core/documents/station.ts";

/** Air that stands still, so that a test sees only what it asks for. */
export const stillAir = { meanC: 20, dailySwingK: 0, wanderK: 0, pressureWanderPa: 0 };

/** An ordinary argon station: 50 L at 200 bar, single stage, float tube after ISO trade practice. */
export function argonStation(changes: Record<string, unknown> = {}): StationDocument {
  return stationSchema.parse({
    schema: 1,
    station: "bay-3",
    site: "north",
    node: "n-07",
    supply: null,
    cylinder: {
      gas: "I1-Ar",
      composition: { Ar: 1 },
      waterVolumeL: 50,
      filledBar: 200,
      filledC: 15,
      residualBar: 10,
    },
    regulator: { stages: 1, deliveryBar: 3.45, maxLineBar: 8, reliefBar: 12, highSideMl: 20 },
    flowDevice: {
      kind: "variable-area",
      scaleGas: { Ar: 1 },
      scaleBar: 3.45,
      scaleC: 21,
      scaleMin: 2,
      scaleMax: 16,
      valve: "after-tube",
      reading: 8,
      readingUnit: "L/min",
    },
    lineTap: "regulator-outlet",
    hose: { lengthM: 4, boreMm: 6 },
    sensors: {
      cylinder: { rangeBar: 250, accuracyPercentFs: 0.5 },
      line: { rangeBar: 10, accuracyPercentFs: 0.5 },
    },
    procedure: { process: "GTAW", cup: 7 },
    ...changes,
  });
}

export function argonPlant(variation: PlantVariation = {}, seed = 1): Plant {
  return createPlant(plantConfigFor(argonStation(), { weather: stillAir, ...variation }), seed);
}

export function drop(plant: Plant) {
  const first = plant.inputs.drops[0];
  if (!first) throw new Error("the plant has no torch place");
  return first;
}

/** Gauge bar in the cylinder. */
export function cylinderBar(plant: Plant): number {
  const truth = plant.truth();
  return (truth.cylinderPa - truth.airPa) / 1e5;
}

/** Gauge bar of the line before the restriction. */
export function lineBar(plant: Plant): number {
  const truth = plant.truth();
  return ((truth.drops[0]?.bodyPa ?? 0) - truth.airPa) / 1e5;
}
