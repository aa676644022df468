import { type StationDocument, stationSchema } from "@leeward/shared-core/documents/station.ts";

type Json = { [key: string]: unknown };

const whole = new Set(["composition", "scaleGas", "flowDevice", "cylinder"]);

/** `changes` over `base`; compositions, flow devices and cylinders that name a kind replace the old one. */
function merged(base: Json, changes: Json): Json {
  const out: Json = { ...base };
  for (const [key, value] of Object.entries(changes)) {
    const old = out[key];
    const isObject = (v: unknown): v is Json =>
      typeof v === "object" && v !== null && !Array.isArray(v);
    const replaces =
      !isObject(value) || !isObject(old) || (whole.has(key) && ("kind" in value || "gas" in value));
    out[key] =
      replaces || !["regulator", "flowDevice", "cylinder", "sensors", "hose"].includes(key)
        ? value
        : merged(old, value);
  }
  return out;
}

export const argon = (waterVolumeL = 50, more: Json = {}): Json => ({
  gas: "I1-Ar",
  composition: { Ar: 1 },
  waterVolumeL,
  waterVolumeUPercent: 0.5,
  count: 1,
  filledBar: 200,
  filledC: 15,
  residualBar: 10,
  ...more,
});

export const mix = (gas: string, composition: Json, waterVolumeL = 50, more: Json = {}): Json => ({
  ...argon(waterVolumeL, more),
  gas,
  composition,
});

export const tube = (scaleGas: Json, reading: number, more: Json = {}): Json => ({
  kind: "variable-area",
  scaleGas,
  scaleBar: 3.45,
  scaleC: 21,
  scaleReference: "metric20",
  scaleMin: 2,
  scaleMax: 25,
  valve: "after-tube",
  float: "ball",
  readAt: "float-centre",
  reading,
  readingUnit: "L/min",
  ...more,
});

const base: Json = {
  schema: 1,
  station: "bench",
  site: "yard",
  node: "bench",
  cylinder: argon(),
  regulator: {
    stages: 1,
    adjust: "preset",
    deliveryBar: 3.45,
    maxLineBar: 8,
    reliefBar: 12,
    highSideMl: 20,
  },
  flowDevice: tube({ Ar: 1 }, 8),
  lineTap: "regulator-outlet",
  hose: { lengthM: 4, boreMm: 6 },
  sensors: {
    cylinder: { rangeBar: 250, accuracyPercentFs: 0.5 },
    line: { rangeBar: 10, accuracyPercentFs: 0.5, proofBar: 30 },
  },
  procedure: { process: "GTAW", material: "stainless", cup: 7 },
  changeover: { minutes: 10 },
};

/** A TIG station on 50 L of argon, with changes. Throws where the result is no valid document. */
export function stationWith(changes: Json = {}): StationDocument {
  return stationSchema.parse(merged(base, changes));
}

export const noLine: Json = {
  cylinder: { rangeBar: 250, accuracyPercentFs: 0.5 },
  line: undefined,
};

export const mig: Json = {
  process: "GMAW",
  transfer: "short-circuit",
  material: "carbon steel",
  nozzleBoreMm: 16,
};
