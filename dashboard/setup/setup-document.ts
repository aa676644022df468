import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { Composition } from "@leeward/shared-core/gases/composition.ts";
import { parseDesignation } from "@leeward/shared-core/gases/designations.ts";
import { classOf, isSameSensor, type SensorKind, sensorsBefore } from "./same-sensor.ts";
import type { SetupForm, TypedUnits } from "./setup-form.ts";
import { stationName } from "./station-name.ts";
import { twoPointOf } from "./two-point.ts";
import { dayShown, typedBar, typedCelsius, typedNumber } from "./typed.ts";
import { scaleOf } from "./weigh-points.ts";

type Json = { [key: string]: unknown };

/** Mole fractions behind a typed designation; null where it is none. */
export function gasOf(designation: string): Composition | null {
  const parsed = parseDesignation(designation);
  return parsed.ok ? parsed.value : null;
}

/**
 * The description that a form stands for, not yet checked. What the form does not ask (prices,
 * fits, lots) stays as it stands in `base`.
 *
 * @param base the station as it is stored; null for a new one
 */
export function documentOf(form: SetupForm, base: StationDocument | null, units: TypedUnits): Json {
  const composition = gasOf(form.gas) ?? {};
  return tidy({
    ...base,
    schema: 1,
    station: base?.station ?? stationName(form.name) ?? "",
    site: form.site,
    name: form.name.trim() || undefined,
    node: form.node.trim() === "" ? null : form.node.trim(),
    altitudeM: typedNumber(form.altitude),
    ...(form.supply === ""
      ? { supply: undefined, cylinder: cylinderOf(form, composition, base, units) }
      : { supply: form.supply, cylinder: undefined }),
    regulator: form.supply === "" || form.ownRegulator ? regulatorOf(form, base, units) : undefined,
    flowDevice: flowDeviceOf(form, composition, base, units),
    lineTap: form.lineTap,
    hose: hoseOf(form),
    sensors: sensorsOf(form, base, units),
    procedure: procedureOf(form, base),
    place: placeOf(form, base),
  });
}

function cylinderOf(
  form: SetupForm,
  composition: Composition,
  base: StationDocument | null,
  units: TypedUnits,
): Json {
  const before = base?.cylinder;
  const { filledBar, filledC, filledKg, tareKg, ...kept } = (before ?? {}) as Json;
  const liquid = composition.CO2 === 1;
  const uncertainty = { stamped: 0.5, catalogue: 2, "": before?.waterVolumeUPercent };
  return {
    ...kept,
    gas: form.gas.trim(),
    composition: before?.gas === form.gas.trim() ? before.composition : composition,
    waterVolumeL: typedNumber(form.waterVolume),
    waterVolumeUPercent: uncertainty[form.volumeFrom],
    count: typedNumber(form.count) ?? 1,
    residualBar: typedBar(form.residual, units.pressure, before?.residualBar),
    ...(liquid
      ? {
          filledKg: typedNumber(form.filledKg),
          ...(form.tareKg.trim() === "" ? {} : { tareKg: typedNumber(form.tareKg) }),
        }
      : {
          filledBar: typedBar(form.filled, units.pressure, filledBar as number | undefined),
          filledC: typedCelsius(
            form.filledTemperature,
            units.temperature,
            filledC as number | undefined,
          ),
        }),
  };
}

function regulatorOf(form: SetupForm, base: StationDocument | null, units: TypedUnits): Json {
  const before = base?.regulator;
  const bar = (text: string, was?: number) => typedBar(text, units.pressure, was);
  return {
    ...before,
    stages: form.stages === "2" ? 2 : 1,
    adjust: form.adjust || undefined,
    deliveryBar: bar(form.delivery, before?.deliveryBar),
    maxLineBar: bar(form.maxLine, before?.maxLineBar),
    reliefBar: bar(form.relief, before?.reliefBar),
    heated: form.heated,
    ratedFor: listed(form.ratedRegulator),
  };
}

function flowDeviceOf(
  form: SetupForm,
  composition: Composition,
  base: StationDocument | null,
  units: TypedUnits,
): Json | undefined {
  if (form.device === "") return undefined;
  const before = base?.flowDevice?.kind === form.device ? base.flowDevice : null;
  const bar = (text: string, was?: number) => typedBar(text, units.pressure, was);
  const scaleGas = form.scaleGas.trim() === "" ? composition : (gasOf(form.scaleGas) ?? {});
  const common = {
    ...before,
    kind: form.device,
    readingUnit: form.unit,
    scaleMin: typedNumber(form.scaleMin),
    scaleMax: typedNumber(form.scaleMax),
    reading: typedNumber(form.reading),
  };
  if (form.device === "metered") {
    return { ...common, ...(form.scaleGas.trim() === "" ? {} : { meterGas: scaleGas }) };
  }
  if (form.device === "variable-area") {
    const was = before?.kind === "variable-area" ? before.scaleBar : undefined;
    return {
      ...common,
      scaleGas,
      scaleBar: bar(form.scalePressure, was),
      valve: form.valve,
      float: form.float,
      readAt: form.readAt,
    };
  }
  const was = before?.kind === "orifice-gauge" ? before.scaleReadsAt?.bar : undefined;
  const at = bar(form.dialPressure, was);
  const reading = typedNumber(form.dialReading);
  const dial = at !== null && reading !== null ? { bar: at, reading } : undefined;
  return { ...common, scaleGas, scaleReadsAt: dial };
}

function hoseOf(form: SetupForm): Json | undefined {
  const lengthM = typedNumber(form.hoseLength);
  const boreMm = typedNumber(form.hoseBore);
  return lengthM === null || boreMm === null ? undefined : { lengthM, boreMm };
}

/** A new day of calibration, or another sensor, ends what was due after the one before. */
function calibrationOf(
  was: { calibrated?: string | number; calibrationDue?: string | number } | undefined,
  day: string,
  same: boolean,
): Json {
  if (same && day === dayShown(was?.calibrated)) return {};
  return { calibrated: day === "" ? undefined : day, calibrationDue: undefined };
}

function sensorsOf(form: SetupForm, base: StationDocument | null, units: TypedUnits): Json {
  const before = sensorsBefore(form, base);
  const { scale: _, ...kept } = before ?? {};
  const scale = scaleOf(form, base);
  const sensor = (kind: SensorKind, proof: string, rated: string[]): Json | undefined => {
    const was = before?.[kind];
    const { rangeBar, accuracyPercentFs } = classOf(form, kind, was, units);
    if (form[`${kind}Range`].trim() === "") return undefined;
    const same = isSameSensor(form, base, kind, units);
    return {
      ...was,
      rangeBar,
      accuracyPercentFs,
      proofBar: typedBar(proof, units.pressure, was?.proofBar),
      ratedFor: listed(rated),
      ...calibrationOf(was, form[`${kind}Calibrated`], same),
      twoPoint: same ? twoPointOf(form, kind, was, units) : undefined,
    };
  };
  return {
    ...kept,
    ...(scale ? { scale } : {}),
    // That of a shared supply is described there.
    cylinder:
      form.supply === ""
        ? sensor("cylinder", form.cylinderProof, form.ratedCylinder)
        : base?.supply === form.supply
          ? before?.cylinder
          : undefined,
    line: form.lineSensor ? sensor("line", form.lineProof, form.ratedLine) : undefined,
  };
}

function procedureOf(form: SetupForm, base: StationDocument | null): Json | undefined {
  if (form.process === "") return undefined;
  const tig = form.process === "GTAW";
  return {
    ...base?.procedure,
    process: form.process,
    material: form.material || undefined,
    transfer: tig ? undefined : form.transfer || undefined,
    cup: tig ? typedNumber(form.cup) : undefined,
    gasLens: tig ? form.gasLens : undefined,
    nozzleBoreMm: tig ? undefined : typedNumber(form.nozzleBore),
    amps: typedNumber(form.amps),
    minimumLpm: typedNumber(form.minimum),
    targetLpm: typedNumber(form.target),
    maximumLpm: typedNumber(form.maximum),
  };
}

function placeOf(form: SetupForm, base: StationDocument | null): Json | undefined {
  const roomM3 = typedNumber(form.room);
  const airChangesPerHour = typedNumber(form.airChanges);
  if (roomM3 === null && airChangesPerHour === null && !form.confined && !base?.place) {
    return undefined;
  }
  return { ...base?.place, roomM3, airChangesPerHour, confined: form.confined };
}

function listed(ratings: string[]): string[] | undefined {
  return ratings.length === 0 ? undefined : ratings;
}

/** Without what is not known; a node that is taken away stays as null. */
function tidy(value: Json): Json {
  const out: Json = {};
  for (const [key, part] of Object.entries(value)) {
    if (part === undefined || (part === null && key !== "node" && key !== "supply")) continue;
    const inside = typeof part === "object" && part !== null && !Array.isArray(part);
    out[key] = inside ? tidy(part as Json) : part;
  }
  return out;
}
