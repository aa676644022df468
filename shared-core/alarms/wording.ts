import type { StationSnapshot } from "./condition.ts";

/**
 * Numbers as a welder reads them. Pressures and temperatures follow the site's units; where none
 * are known, a device that reads CFH goes with psi and °F, any other with bar and °C.
 */

const pascalPerPsi = 6894.757293; // NIST SP 811
/** CFH at 70 °F and 14.696 psia for 1 L/min at 20 °C and 101.325 kPa (NIST SP 811, ideal gas). */
const cfhPerLpm = 2.12688;

function american(snapshot: StationSnapshot): boolean {
  return snapshot.station.flowDevice?.readingUnit === "CFH";
}

/** Gauge pressure, such as `8.2 bar` or `119 psi`. */
export function pressureText(pressurePa: number, snapshot: StationSnapshot): string {
  const unit = snapshot.units?.pressure ?? (american(snapshot) ? "psi" : "bar");
  if (unit === "psi") return `${rounded(pressurePa / pascalPerPsi)} psi`;
  if (unit === "kPa") return `${rounded(pressurePa / 1000)} kPa`;
  return `${rounded(pressurePa / 1e5)} bar`;
}

/** Temperature, such as `-4 °C` or `25 °F`. */
export function temperatureText(temperatureK: number, snapshot: StationSnapshot): string {
  const unit = snapshot.units?.temperature ?? (american(snapshot) ? "F" : "C");
  const celsius = temperatureK - 273.15;
  return unit === "F" ? `${Math.round(celsius * 1.8 + 32)} °F` : `${Math.round(celsius)} °C`;
}

/** True flow in the unit of the station's device, such as `7.9 L/min` or `17 CFH`. */
export function flowText(lpm: number, snapshot: StationSnapshot): string {
  return american(snapshot) ? `${rounded(lpm * cfhPerLpm)} CFH` : `${rounded(lpm)} L/min`;
}

/** A true flow (metric20 L/min) as a number in the unit of the station's device. */
export function inDeviceUnit(lpm: number, snapshot: StationSnapshot): number {
  return american(snapshot) ? lpm * cfhPerLpm : lpm;
}

/** Two figures below 10, whole numbers above, without a trailing zero: `0.35`, `8`, `12.6`, `119`. */
export function rounded(value: number): string {
  const size = Math.abs(value);
  const digits = size >= 100 ? 0 : size >= 1 ? 1 : 2;
  return String(Number(value.toFixed(digits)));
}

/** A span of time: `40 s`, `12 min`, `3 h`, `2 days`. */
export function spanText(seconds: number): string {
  if (seconds < 90) return `${Math.max(0, Math.round(seconds))} s`;
  if (seconds < 5400) return `${Math.round(seconds / 60)} min`;
  if (seconds < 129600) return `${rounded(Math.round(seconds / 360) / 10)} h`;
  return `${Math.round(seconds / 86400)} days`;
}

/** Share in whole percent. */
export function percentText(share: number): string {
  return `${Math.round(share * 100)} %`;
}

/** What the welder turns, by the kind of device. */
export function dialName(snapshot: StationSnapshot): string {
  const kind = snapshot.station.flowDevice?.kind;
  if (kind === "orifice-gauge") return "gauge";
  if (kind === "metered") return "meter";
  return "float";
}

/** The flow that a text speaks of: the present one, and with the gas off the last that flowed. */
export function flowSpokenOf(snapshot: StationSnapshot): StationSnapshot["flow"] {
  const settled = snapshot.gasOnSince !== null && snapshot.t - snapshot.gasOnSince >= 5;
  if (settled && snapshot.mode === "flowing" && snapshot.flow !== null) return snapshot.flow;
  if (snapshot.lastFlow != null) return snapshot.lastFlow;
  return snapshot.gasOnSince === null ? snapshot.expectedFlow : snapshot.flow;
}
