import { requireWithin } from "../errors.ts";
import { ATMOSPHERE_PA } from "./factors.ts";

/** Source of the standard atmosphere. */
export const atmosphereSource = "iso-2533";

/**
 * Pressure of the standard atmosphere, Pa: p = 101325 (1 - 0.0065 h / 288.15)^5.25588.
 *
 * @param altitudeM height above sea level, -500 to 11 000 m
 */
export function atmosphericPressurePa(altitudeM: number): number {
  requireWithin("altitudeM", altitudeM, -500, 11_000);
  return ATMOSPHERE_PA * (1 - (0.0065 * altitudeM) / 288.15) ** 5.255_88;
}

/** Absolute from gauge pressure at an altitude. */
export function absolutePressurePa(gaugePa: number, altitudeM = 0): number {
  return gaugePa + atmosphericPressurePa(altitudeM);
}

/** Gauge from absolute pressure at an altitude. */
export function gaugePressurePa(absolutePa: number, altitudeM = 0): number {
  return absolutePa - atmosphericPressurePa(altitudeM);
}
