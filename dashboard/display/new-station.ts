import type { StationDocument } from "@leeward/shared-core/documents/station.ts";

/** Gases that a label is likely to name, by ISO 14175, with what the designation means. */
export const commonGases = [
  { gas: "I1-Ar", composition: { Ar: 1 } },
  { gas: "M21-ArC-18", composition: { Ar: 0.82, CO2: 0.18 } },
  { gas: "M21-ArC-25", composition: { Ar: 0.75, CO2: 0.25 } },
  { gas: "M20-ArC-8", composition: { Ar: 0.92, CO2: 0.08 } },
  { gas: "M12-ArC-2", composition: { Ar: 0.98, CO2: 0.02 } },
  { gas: "M13-ArO-2", composition: { Ar: 0.98, O2: 0.02 } },
  { gas: "I3-ArHe-25", composition: { Ar: 0.75, He: 0.25 } },
  { gas: "I2-He", composition: { He: 1 } },
  { gas: "C1-C", composition: { CO2: 1 } },
  { gas: "N1-N", composition: { N2: 1 } },
] as const;

export type DeviceKind = "variable-area" | "orifice-gauge" | "metered";
export type Process = "GTAW" | "GMAW" | "FCAW-G";

/** What the small form asks. Numbers are as typed, in the units beside the fields. */
export interface NewStationForm {
  name: string;
  gas: string;
  waterVolumeL: number;
  filledBar: number;
  filledKg: number;
  residualBar: number;
  device: DeviceKind;
  unit: "L/min" | "CFH";
  scaleMax: number;
  /** Float tube: the gauge pressure stamped on it, bar. */
  scaleBar: number;
  /** Dial: one point of it. */
  dialBar: number;
  dialReading: number;
  deliveryBar: number;
  cylinderRangeBar: number;
  lineSensor: boolean;
  lineRangeBar: number;
  process: Process;
  cup: number;
  nozzleBoreMm: number;
}

export const emptyForm: NewStationForm = {
  name: "",
  gas: "I1-Ar",
  waterVolumeL: 50,
  filledBar: 200,
  filledKg: 30,
  residualBar: 5,
  device: "variable-area",
  unit: "L/min",
  scaleMax: 16,
  scaleBar: 3.5,
  dialBar: 3.5,
  dialReading: 15,
  deliveryBar: 3.5,
  cylinderRangeBar: 250,
  lineSensor: true,
  lineRangeBar: 10,
  process: "GTAW",
  cup: 7,
  nozzleBoreMm: 16,
};

/** A station's name from what people call it: `Slipway 3` becomes `slipway-3`; null if none is left. */
export function stationName(name: string): string | null {
  const plain = name
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/ß/g, "ss")
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, 32)
    .replace(/-+$/g, "");
  return plain === "" ? null : plain;
}

/** The description that the form stands for; null where the name has no letter or digit. */
export function newStation(
  site: string,
  node: string,
  form: NewStationForm,
): StationDocument | null {
  const station = stationName(form.name);
  const gas = commonGases.find((entry) => entry.gas === form.gas);
  if (station === null || !gas) return null;
  const composition = { ...gas.composition };
  const common = {
    gas: gas.gas,
    composition,
    waterVolumeL: form.waterVolumeL,
    count: 1,
    residualBar: form.residualBar,
  };
  const cylinder =
    gas.gas === "C1-C"
      ? { ...common, filledKg: form.filledKg }
      : { ...common, filledBar: form.filledBar, filledC: 15 };
  return {
    schema: 1,
    station,
    site,
    name: form.name.trim(),
    node,
    cylinder,
    regulator: { stages: 1, deliveryBar: form.deliveryBar },
    flowDevice: flowDevice(form, composition),
    lineTap: "regulator-outlet",
    sensors: {
      cylinder: { rangeBar: form.cylinderRangeBar, accuracyPercentFs: 1 },
      ...(form.lineSensor ? { line: { rangeBar: form.lineRangeBar, accuracyPercentFs: 1 } } : {}),
    },
    procedure:
      form.process === "GTAW"
        ? { process: form.process, cup: form.cup }
        : { process: form.process, nozzleBoreMm: form.nozzleBoreMm },
  };
}

function flowDevice(
  form: NewStationForm,
  scaleGas: Record<string, number>,
): NonNullable<StationDocument["flowDevice"]> {
  switch (form.device) {
    case "variable-area":
      return {
        kind: "variable-area",
        scaleGas,
        scaleBar: form.scaleBar,
        scaleMax: form.scaleMax,
        valve: "after-tube",
        readingUnit: form.unit,
      };
    case "orifice-gauge":
      return {
        kind: "orifice-gauge",
        scaleGas,
        scaleReadsAt: { bar: form.dialBar, reading: form.dialReading },
        scaleMax: form.scaleMax,
        readingUnit: form.unit,
      };
    case "metered":
      return { kind: "metered", readingUnit: form.unit, scaleMax: form.scaleMax };
  }
}
