import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { ReadingCase } from "@leeward/shared-core/flow/reading-causes.ts";
import { absolutePressurePa } from "@leeward/shared-core/units/atmosphere.ts";
import { ATMOSPHERE_PA, BAR_PA, CELSIUS_ZERO_K } from "@leeward/shared-core/units/factors.ts";
import { settingsAgree } from "./device-line.ts";

export type ReadingVerdict = "agrees" | "higher" | "lower" | "unknown";

/** What a person reads against what the pressures say. */
export function compareReading(
  reading: number,
  should: number | null,
  unit: "L/min" | "CFH",
): ReadingVerdict {
  if (should === null) return "unknown";
  if (settingsAgree(reading, should, unit)) return "agrees";
  return reading > should ? "higher" : "lower";
}

/** Room temperature where nothing is measured, K. */
const ROOM_K = 293.15;
/** Hose and torch hold back a few psi at welding flow (3 to 8 psi, common practice), Pa. */
const BACK_PRESSURE_PA = 25_000;

/** What the causes of a difference are judged by; null where flow, gas or device is not known. */
export function readingCase(
  view: StationView,
  reading: number,
  should: number,
): ReadingCase | null {
  const { flowDevice: device, cylinder, altitudeM, regulator } = view.description;
  const estimate = view.estimate;
  const lpm = estimate?.flow.lpm ?? null;
  if (!device || !cylinder || !estimate || lpm === null || lpm <= 0) return null;
  const linePa =
    estimate.measured?.linePa ??
    (regulator?.deliveryBar === undefined ? null : regulator.deliveryBar * BAR_PA);
  if (linePa === null) return null;
  const before = device.kind === "variable-area" && device.valve === "before-tube";
  const celsius = estimate.regulatorC ?? estimate.measured?.ambientC ?? null;
  return {
    device,
    composition: cylinder.composition,
    reading,
    should,
    flow: { lpm, low: estimate.flow.low ?? lpm, high: estimate.flow.high ?? lpm },
    tubePa: before
      ? ATMOSPHERE_PA + Math.min(linePa, BACK_PRESSURE_PA)
      : absolutePressurePa(linePa, altitudeM ?? 0),
    tubeK: celsius === null ? ROOM_K : celsius + CELSIUS_ZERO_K,
  };
}
