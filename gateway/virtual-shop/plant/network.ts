import { gasConstant, type PlantGas } from "./gas.ts";

/** Below this distance from equal pressures a restriction is taken as laminar (linear). */
const laminarRatio = 0.995;

/**
 * Share of the choked flow at pressure ratio `r` (downstream over upstream), after ISO 6358:
 * 1 up to the critical ratio `b`, then a quarter ellipse, and linear at the very end.
 */
export function flowShare(r: number, b: number): number {
  if (r <= b) return 1;
  if (r >= 1) return 0;
  if (r > laminarRatio) {
    const x = (laminarRatio - b) / (1 - b);
    return (Math.sqrt(1 - x * x) * (1 - r)) / (1 - laminarRatio);
  }
  const x = (r - b) / (1 - b);
  return Math.sqrt(1 - x * x);
}

/** Flow through a restriction of sonic conductance `c` (mol/s per Pa at 20 °C), either way, mol/s. */
export function restrictionFlow(
  c: number,
  b: number,
  upPa: number,
  downPa: number,
  temperatureK: number,
): number {
  const t = Math.sqrt(293.15 / temperatureK);
  return upPa >= downPa
    ? c * t * upPa * flowShare(downPa / upPa, b)
    : -c * t * downPa * flowShare(upPa / downPa, b);
}

/**
 * Sonic conductance of a round hole, mol/s per Pa of upstream pressure at 20 °C:
 * Cd A C* / sqrt(M R T), critical flow of an ideal gas (ISO 9300 form).
 */
export function orificeConductance(gas: PlantGas, diameterM: number, cd: number): number {
  const g = gas.gamma;
  const critical = Math.sqrt(g) * (2 / (g + 1)) ** ((g + 1) / (2 * (g - 1)));
  const area = (Math.PI / 4) * diameterM * diameterM;
  return (cd * area * critical) / Math.sqrt(gas.molarMassKg * gasConstant * 293.15);
}

/** Critical pressure ratio of the ideal gas: (2/(γ+1))^(γ/(γ-1)). */
export function criticalRatio(gas: PlantGas): number {
  const g = gas.gamma;
  return (2 / (g + 1)) ** (g / (g - 1));
}

/** Moles in a low-pressure volume (virial equation cut after B). */
export function molesIn(pressurePa: number, volumeM3: number, temperatureK: number, b: number) {
  const rt = gasConstant * temperatureK;
  const density = pressurePa / rt;
  return volumeM3 * density * (1 - b * density);
}
