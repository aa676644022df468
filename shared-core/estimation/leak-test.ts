/**
 * Leak test with the cylinder valve closed and the torch shut: what the trapped gas of two small
 * volumes does in ten minutes, by its real density at its temperature.
 *
 * A regulator that is still open feeds a leaking line from the high side at its lock-up pressure:
 * the high side falls and the line stands, whichever of them leaks. Only with the regulator shut
 * (its screw backed out, or the valve at its outlet closed) does each volume speak for itself.
 */

/** One volume's readings: sums of time (s) and density (mol/m³), both counted from the first. */
export interface TrappedGas {
  t0: number;
  rho0: number;
  n: number;
  t: number;
  tt: number;
  rho: number;
  tRho: number;
  rhoRho: number;
  lastT: number;
}

/** A volume with what is known of its sensor and its gas. */
export interface TrappedVolume {
  gas: TrappedGas;
  volumeM3: number;
  /** Relative 1 sigma of the volume. */
  volumeSigma: number;
  /** Density that a slow error of the sensor (hysteresis, creep) makes over the test, 1 sigma, mol/m³. */
  slowMolPerM3: number;
  /** Temperature of the gas, K, and 1 sigma of how its change over the test is known, K. */
  gasK: number;
  changeSigmaK: number;
}

/** Standing loss of one volume, standard cm³/min (20 °C, 101.325 kPa). */
export interface VolumeLeak {
  cm3PerMin: number;
  low: number;
  high: number;
  /** Smallest leak that this test would have found, 95 times in a hundred. */
  smallest: number;
  found: boolean;
}

export interface LeakVerdict {
  side: "cylinder" | "line" | "both" | "unknown" | "none";
  tested: "cylinder" | "line" | "both";
  cylinder: VolumeLeak | null;
  line: VolumeLeak | null;
  cautions: LeakCaution[];
}

export type LeakCaution =
  | "no-line-sensor"
  | "regulator-open"
  | "line-draws-high-side"
  | "volume-not-described"
  | "no-temperature"
  | "high-side-empty"
  | "high-side-without-pressure"
  | "line-without-pressure"
  | "valve-taken-as-closed";

/** Below this the high side feeds nothing and leaks hardly more, gauge Pa (no source). */
export const HIGH_SIDE_EMPTY_PA = 3e5;
/** Below this a line holds too little for a loss to show, gauge Pa (no source). */
export const LINE_EMPTY_PA = 0.3e5;

/** A fall counts from this many sigma on: one false find in some two hundred tests. */
const FOUND_SIGMAS = 2.6;
/** Beyond that a leak is found 95 times in a hundred: 2.6 and the one-sided 1.645. */
const SURE_SIGMAS = FOUND_SIGMAS + 1.645;

export function startTrapped(t: number, rho: number): TrappedGas {
  return { t0: t, rho0: rho, n: 0, t: 0, tt: 0, rho: 0, tRho: 0, rhoRho: 0, lastT: t };
}

export function addTrapped(gas: TrappedGas, t: number, rho: number): void {
  const at = t - gas.t0;
  const away = rho - gas.rho0;
  gas.n++;
  gas.t += at;
  gas.tt += at * at;
  gas.rho += away;
  gas.tRho += at * away;
  gas.rhoRho += away * away;
  gas.lastT = t;
}

/**
 * Loss of one trapped volume; null with fewer than ten readings or less than three minutes.
 *
 * @param standardMolPerM3 density of the gas at 20 °C and 101.325 kPa
 */
export function volumeLeak(volume: TrappedVolume, standardMolPerM3: number): VolumeLeak | null {
  const { gas } = volume;
  const { n } = gas;
  const seconds = gas.lastT - gas.t0;
  if (n < 10 || seconds < 180) return null;
  const spread = gas.tt - (gas.t * gas.t) / n;
  if (!(spread > 0)) return null;
  const together = gas.tRho - (gas.t * gas.rho) / n;
  const slope = together / spread;
  const left = gas.rhoRho - (gas.rho * gas.rho) / n - slope * together;
  const noise = Math.sqrt(Math.max(left, 0) / (n - 2) / spread);
  const density = gas.rho0 + gas.rho / n;
  const warmth = ((density / volume.gasK) * volume.changeSigmaK) / seconds;
  const slow = volume.slowMolPerM3 / seconds;
  const perSlope = ((volume.volumeM3 * 60) / standardMolPerM3) * 1e6;
  const rate = -slope * perSlope;
  const sigma = Math.hypot(noise, warmth, slow) * perSlope;
  // A leak slows down as its volume empties: the straight line's mean is off by about that part.
  const emptied = Math.min(Math.max((-slope * seconds) / Math.max(density, 1e-9), 0), 2);
  const width = Math.hypot(1.96 * Math.hypot(sigma, rate * volume.volumeSigma), rate * emptied);
  return {
    cm3PerMin: Math.max(rate, 0),
    low: Math.max(rate - width, 0),
    high: Math.max(rate + width, 0),
    smallest: SURE_SIGMAS * sigma,
    found: rate > FOUND_SIGMAS * sigma,
  };
}

/**
 * Which side leaks.
 *
 * @param high the volume between cylinder valve and seat; null where it could not be judged
 * @param line the volume between seat and torch; null without a usable line sensor
 * @param shut the regulator is shut too, so that neither volume feeds the other
 * @param emptied the high side lost all its pressure by itself: a leak, however few its readings
 * @returns null where nothing can be said: no volume judged, or a line that an open regulator may
 *   have held up from a side that was not judged
 */
export function judgeLeakTest(
  high: VolumeLeak | null,
  line: VolumeLeak | null,
  shut: boolean,
  cautions: readonly LeakCaution[],
  emptied = false,
): LeakVerdict | null {
  const highFell = emptied || high?.found === true;
  if (high === null && !emptied && (line === null || (!shut && !line.found))) return null;
  const out = [...cautions];
  let side: LeakVerdict["side"] = "none";
  if (line?.found) side = highFell ? "both" : "line";
  else if (highFell) side = shut ? "cylinder" : "unknown";
  if (side === "both" && !shut) out.push("line-draws-high-side");
  if (line === null && !out.includes("line-without-pressure")) out.push("no-line-sensor");
  if (!shut && highFell) out.push("regulator-open");
  // An open cylinder holds its side up as a tight one does.
  if (high !== null && !emptied) out.push("valve-taken-as-closed");
  const highTested = high !== null || emptied;
  const tested = highTested && line !== null ? "both" : highTested ? "cylinder" : "line";
  return { side, tested, cylinder: high, line, cautions: out };
}
