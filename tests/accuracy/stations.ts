import { type StationDocument, stationSchema } from "@leeward/shared-core/documents/station.ts";

/** Descriptions of the simulated stations. Each is a whole document; scenarios change parts. */

const gtaw = {
  schema: 1,
  station: "bay-3",
  site: "north",
  node: "n-07",
  altitudeM: 0,
  cylinder: {
    gas: "I1-Ar",
    composition: { Ar: 1 },
    waterVolumeL: 50,
    waterVolumeUPercent: 0.5,
    count: 1,
    filledBar: 200,
    filledC: 15,
    residualBar: 10,
  },
  regulator: { stages: 1, adjust: "preset", deliveryBar: 3.45, maxLineBar: 8, highSideMl: 20 },
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
    readAt: "float-bottom",
    reading: 8,
    readingUnit: "L/min",
  },
  lineTap: "regulator-outlet",
  hose: { lengthM: 4, boreMm: 6 },
  sensors: {
    cylinder: { rangeBar: 250, accuracyPercentFs: 0.5 },
    line: { rangeBar: 10, accuracyPercentFs: 0.5 },
  },
  procedure: {
    process: "GTAW",
    material: "aluminium",
    cup: 7,
    minimumLpm: 6,
    targetLpm: 8,
    maximumLpm: 10,
  },
  changeover: { minutes: 10 },
};

type Json = { [key: string]: unknown };

function merged(base: Json, changes: Json): Json {
  const out: Json = { ...base };
  for (const [key, value] of Object.entries(changes)) {
    const old = out[key];
    const deep =
      typeof value === "object" &&
      value !== null &&
      !Array.isArray(value) &&
      key !== "composition" &&
      key !== "scaleGas";
    out[key] =
      deep && typeof old === "object" && old !== null ? merged(old as Json, value as Json) : value;
  }
  for (const key of Object.keys(out)) if (out[key] === undefined) delete out[key];
  return out;
}

/** A TIG station on a 50 L argon cylinder, with changes. */
export function tigStation(changes: Json = {}): StationDocument {
  return stationSchema.parse(merged(gtaw, changes));
}

/** A MIG station on 75/25 or 82/18, with changes. */
export function migStation(changes: Json = {}): StationDocument {
  const base = merged(gtaw, {
    station: "rack-1",
    node: "n-11",
    cylinder: { gas: "M21-ArC-18", composition: { Ar: 0.82, CO2: 0.18 }, filledC: 17 },
    flowDevice: { scaleGas: { Ar: 0.82, CO2: 0.18 }, scaleMin: 4, scaleMax: 25, reading: 14 },
    procedure: {
      process: "GMAW",
      transfer: "short-circuit",
      material: "carbon steel",
      cup: undefined,
      nozzleBoreMm: 16,
      minimumLpm: 11,
      targetLpm: 14,
      maximumLpm: 18,
    },
  });
  return stationSchema.parse(merged(base, changes));
}

/** The same on 20 kg of liquid carbon dioxide, with changes. */
export function liquidStation(presentKg: number, changes: Json = {}): StationDocument {
  const liquid: Json = {
    cylinder: {
      gas: "C1-C",
      composition: { CO2: 1 },
      waterVolumeL: 29.4,
      filledBar: undefined,
      filledC: undefined,
      filledKg: 20,
      presentKg,
    },
    flowDevice: { scaleGas: { CO2: 1 } },
  };
  return migStation(merged(liquid, changes));
}

/** Changes for one that draws a cold gas hard: 25 L/min, on a scale that reaches them. */
export const drawnHard: Json = {
  flowDevice: { scaleMax: 40 },
  procedure: { targetLpm: 25, minimumLpm: 18, maximumLpm: 32 },
};
