import type { StationSnapshot } from "./condition.ts";
import type { DeviceWord } from "./language/english.ts";
import { metricSayUnits, type SayUnits, usSayUnits } from "./language/say.ts";

function american(snapshot: Pick<StationSnapshot, "station">): boolean {
  return snapshot.station.flowDevice?.readingUnit === "CFH";
}

/**
 * Units of the site's texts. Pressures and temperatures follow the site's units; where none are
 * known, a device that reads CFH goes with psi and °F, any other with bar and °C.
 */
export function siteSayUnits(
  readingUnit: string | undefined,
  units: StationSnapshot["units"],
): SayUnits {
  const base = readingUnit === "CFH" ? usSayUnits : metricSayUnits;
  return {
    ...base,
    pressure: units?.pressure ?? base.pressure,
    temperature: units?.temperature ?? base.temperature,
  };
}

/** A true flow (metric20 L/min) as a number in the unit of the station's device; null stays null. */
export function inDeviceUnit(
  lpm: number | null,
  snapshot: Pick<StationSnapshot, "station">,
): number | null {
  if (lpm === null) return null;
  return american(snapshot) ? lpm * usSayUnits.flowPerLpm : lpm;
}

/** What the welder turns, by the kind of device. */
export function dialName(snapshot: StationSnapshot): DeviceWord {
  const kind = snapshot.station.flowDevice?.kind;
  if (kind === "orifice-gauge") return "gauge";
  if (kind === "metered") return "meter";
  return "float";
}

/**
 * The flow that a text speaks of: the present one, and with the gas off what flows at the next
 * gas-on. The last one seen stands in where that is not known: while the valve shuts, the line
 * already rises, and it looks like more than it was.
 */
export function flowSpokenOf(snapshot: StationSnapshot): StationSnapshot["flow"] {
  const settled = snapshot.gasOnSince !== null && snapshot.t - snapshot.gasOnSince >= 5;
  if (settled && snapshot.mode === "flowing" && snapshot.flow !== null) return snapshot.flow;
  if (snapshot.mode === "idle" && snapshot.expectedFlow !== null) return snapshot.expectedFlow;
  if (snapshot.lastFlow != null) return snapshot.lastFlow;
  return snapshot.gasOnSince === null ? snapshot.expectedFlow : snapshot.flow;
}
