import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { ActiveAlarm, Estimate } from "@leeward/shared-core/estimation/estimate.ts";

/** A TIG place with a float tube, as in the boatyard; parts can be replaced. */
export function exampleStation(change: Partial<StationDocument> = {}): StationDocument {
  return {
    schema: 1,
    station: "slipway-2",
    site: "north",
    name: "Slipway 2",
    node: "n-07",
    cylinder: {
      gas: "I1-Ar",
      composition: { Ar: 1 },
      waterVolumeL: 50,
      count: 1,
      filledBar: 200,
      filledC: 15,
      residualBar: 10,
    },
    regulator: { stages: 1, deliveryBar: 3.45 },
    flowDevice: {
      kind: "variable-area",
      scaleGas: { Ar: 1 },
      scaleBar: 3.45,
      scaleMax: 16,
      valve: "after-tube",
      readAt: "float-bottom",
      reading: 8,
      readingUnit: "L/min",
    },
    lineTap: "regulator-outlet",
    sensors: {
      cylinder: { rangeBar: 250, accuracyPercentFs: 0.5 },
      line: { rangeBar: 10, accuracyPercentFs: 0.5 },
    },
    procedure: { process: "GTAW", material: "aluminium", cup: 7 },
    ...change,
  };
}

export function exampleEstimate(change: Partial<Estimate> = {}): Estimate {
  const minutes = { median: 120, low: 112, high: 128 };
  return {
    t: 1_764_057_610,
    mode: "flowing",
    flow: { lpm: 8, low: 7.7, high: 8.3, basis: "both" },
    expected: null,
    content: { litres: 5000, low: 4900, high: 5100, usableLitres: 4500 },
    remaining: { gasOnMinutes: minutes, atTargetMinutes: minutes, clockMinutes: minutes },
    indicated: { reading: 8, unit: "L/min" },
    dialTo: { reading: 8, unit: "L/min" },
    demand: { minimumLpm: 6, targetLpm: 8, maximumLpm: 10 },
    regulatorC: 12,
    leak: { litresPerMinute: 0, low: 0, high: 0.02, side: null, tested: "cylinder" },
    measured: { cylinderPa: 88e5, linePa: 3.4e5, cylinderC: 14, ambientC: 18, arc: null },
    events: [],
    alarms: [],
    ...change,
  };
}

export function exampleView(
  estimate: Estimate | null = exampleEstimate(),
  description: StationDocument = exampleStation(),
): StationView {
  return {
    id: `${description.site}.${description.station}`,
    site: description.site,
    station: description.station,
    name: description.name ?? description.station,
    virtual: false,
    version: 1,
    description,
    estimate,
    node: { name: "n-07", state: "online", lastSample: null },
    paceS: 2,
    ageS: 1,
    old: false,
  };
}

export function alarm(
  condition: string,
  priority: ActiveAlarm["priority"],
  since = 0,
): ActiveAlarm {
  return { condition, priority, since, title: `${condition} title.`, advice: "Do this." };
}
