import type { StationSnapshot } from "./condition.ts";

const numbers = [
  "cylinderPa",
  "linePa",
  "cylinderK",
  "regulatorK",
  "ambientK",
  "expectedLinePa",
  "bodyForecastK",
  "supplyVoltage",
  "usePerDayL",
  "calibrationDueT",
] as const;

const groups = [
  "flow",
  "expectedFlow",
  "content",
  "remainingMinutes",
  "idleLine",
  "leak",
  "backPressure",
  "icing",
  "gasDoubt",
] as const;

function allFinite(group: object): boolean {
  for (const name in group) {
    const value = (group as Record<string, unknown>)[name];
    if (typeof value === "number" && !Number.isFinite(value)) return false;
  }
  return true;
}

/**
 * The snapshot with every figure that is not a finite number replaced by null, "not known": a
 * comparison with such a figure would read as normal. The same object where all is sound.
 */
export function soundSnapshot(snapshot: StationSnapshot): StationSnapshot {
  let sound = snapshot;
  for (const name of numbers) {
    const value = snapshot[name];
    if (typeof value === "number" && !Number.isFinite(value)) sound = { ...sound, [name]: null };
  }
  for (const name of groups) {
    const group = snapshot[name];
    if (group && !allFinite(group)) sound = { ...sound, [name]: null };
  }
  return sound;
}
