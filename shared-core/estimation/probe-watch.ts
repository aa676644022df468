import { FALLEN_OFF } from "../alarms/sensor-fault.ts";
import { takeFault } from "./channel-faults.ts";
import { AIR, covariance, DRIFT, PROBE, ROOM, variance, WALL } from "./cylinder-filter.ts";
import { ZERO_C } from "./gas-model.ts";
import type { EngineState } from "./supply-state.ts";
import { createTrend } from "./trend.ts";

/**
 * A temperature probe that has fallen off its cylinder shows the air: within a minute or two it steps by what
 * the wall stands away from the air, which steel needs some 40 minutes for, and stays there.
 *
 * Only a step up is looked for, from a wall that drawing has cooled to the warmer air: a door that is opened in
 * winter moves a strapped probe down, by the part of the air that it shows.
 */

const CHANNEL = "cylinder-temperature";

// What no strapped probe does: estimates, no source.
/** A reading this far above the expected one is held back until it is clear what it is, K, and in noise. */
const DOUBT_K = 0.3;
const DOUBT_SIGMAS = 5;
/** Least step that tells, K, and in draughts as learnt. */
const STEP_K = 0.7;
const STEP_DRAUGHTS = 4;
/** Most that the probe may have been off before, in draughts. */
const BEFORE_DRAUGHTS = 2;
/** How near to the air it must end: K, part of the way to it, and in sigma of that way. */
const LANDS_K = 0.5;
const LANDS_PART = 0.25;
const LANDS_SIGMAS = 1;
/** Wall and air must stand apart by this, K and in sigma of it; and the air must be known to this, 1 sigma, K. */
const APART_K = 0.6;
const APART_SIGMAS = 1.5;
const AIR_KNOWN_K = 0.7;
/** … or is measured, to this, with the sun beside it. */
const MEASURED_AIR_K = 0.7;
/** After a cylinder was fitted or opened the probe comes to its wall, s. */
const SETTLED_S = 900;
/** A node that reports fast, s; readings in a row that count there, and otherwise. */
const FAST_S = 5;
const LASTING = { fast: 15, slow: 3 };
/** ... that are waited for until a probe that was strapped on has come to its wall. */
const SETTLING = { fast: 45, slow: 3 };
/** A probe that shows more of the air than this, or of which that is not learnt to this (1 sigma), is loose: doors step it too. */
const WELL_STRAPPED = 0.15;
const STRAP_KNOWN = 0.042;
/** So many held back, and it was something else. */
const MOST_HELD = { fast: 60, slow: 15 };
/** The wall must be known to this, 1 sigma, for a probe to be seen on it again, K. */
const WALL_KNOWN_K = 1.2;
const ON_WALL_K = 0.6;

/** Whether the temperature probe is taken to hang in the air. */
export function probeIsOff(state: EngineState): boolean {
  return state.faults.some(({ channel, fault }) => channel === CHANNEL && fault === FALLEN_OFF);
}

/** A cylinder that was changed had its probe strapped on anew. */
export function probeStrapped(state: EngineState): void {
  state.cylinder.wallTrend = createTrend();
  state.cylinder.wallRefused = 0;
  for (const fault of state.faults) if (isOff(fault)) fault.lastT = 0;
}

const isOff = ({ channel, fault }: { channel: string; fault: string }): boolean =>
  channel === CHANNEL && fault === FALLEN_OFF;

/** How far the probe reads from what the wall's own temperature makes it show, K; draughts not counted. */
function awayFromWall({ filter: { x } }: EngineState, kelvin: number): number {
  return kelvin - (x[WALL]! + x[AIR]! * (x[ROOM]! - x[WALL]!) + x[PROBE]!);
}

/** From the wall to the air, K, and its 1 sigma. */
function wayToAir(state: EngineState, t: number): { k: number; sigma: number } {
  const { filter } = state;
  const measured = state.drops.find(({ ambientT }) => ambientT !== null && t - ambientT < 600);
  const wall = variance(filter, WALL);
  if (measured?.ambientK != null) {
    return {
      k: measured.ambientK - filter.x[WALL]!,
      sigma: Math.sqrt(wall + MEASURED_AIR_K ** 2),
    };
  }
  const spread = wall + variance(filter, ROOM) - 2 * covariance(filter, WALL, ROOM);
  return { k: filter.x[ROOM]! - filter.x[WALL]!, sigma: Math.sqrt(Math.max(spread, 0)) };
}

/**
 * What a reading of the temperature probe is worth.
 *
 * @param sigmaK its noise and its steps, 1 sigma
 * @returns "good", "held" while it may have come off, "off" while it hangs in the air
 */
export function watchProbe(
  state: EngineState,
  t: number,
  kelvin: number,
  sigmaK: number,
): "good" | "held" | "off" {
  const { cylinder, filter } = state;
  const pace = t - cylinder.wallTrend.t <= FAST_S ? "fast" : "slow";
  if (probeIsOff(state)) return watchReturn(state, kelvin, pace) ? "good" : "off";
  const known = cylinder.knownFrom;
  const rests = cylinder.valve === "open" && known !== null && t - known > SETTLED_S;
  if (!rests || cylinder.liquid || !filter.started || !filter.warm) return "good";
  const loose = filter.x[AIR]! > WELL_STRAPPED || variance(filter, AIR) > STRAP_KNOWN ** 2;
  if (loose) return "good";
  const away = awayFromWall(state, kelvin);
  const air = wayToAir(state, t);
  const surprise = away - filter.x[DRIFT]!;
  const draught = Math.sqrt(filter.driftVariance);
  // Where other air came gradually before, what the wall tends to is on its way too.
  if (Math.abs(filter.x[DRIFT]!) > BEFORE_DRAUGHTS * draught) return "good";
  if (surprise < Math.max(DOUBT_K, DOUBT_SIGMAS * sigmaK)) return "good";
  const lands = Math.max(LANDS_K, LANDS_PART * air.k, LANDS_SIGMAS * air.sigma);
  const steps = away > Math.max(STEP_K, STEP_DRAUGHTS * draught, 3 * sigmaK);
  const held = cylinder.wallRefused + 1;
  const apart = air.k > Math.max(APART_K, APART_SIGMAS * air.sigma);
  if (!apart || air.sigma > AIR_KNOWN_K || held > MOST_HELD[pace]) return "good";
  cylinder.wallRefused = held;
  if (!steps || Math.abs(away - air.k) > lands || held < LASTING[pace]) return "held";
  cylinder.wallRefused = 0;
  takeFault(state, { channel: `${CHANNEL}/fault`, t, value: FALLEN_OFF }, t, -1);
  return "off";
}

/** Whether a fallen probe steps back to where the wall is reckoned to stand. */
function watchReturn(state: EngineState, kelvin: number, pace: "fast" | "slow"): boolean {
  const { cylinder, filter } = state;
  const { weight, v, base } = cylinder.wallTrend;
  if (state.faults.some((fault) => isOff(fault) && fault.lastT === 0)) return true;
  if (weight < 1.5) return false;
  const before = base + v / weight + ZERO_C;
  const sigma = Math.sqrt(variance(filter, WALL));
  const away = awayFromWall(state, kelvin);
  const near = Math.abs(away) < Math.max(ON_WALL_K, 2 * sigma);
  const stepped = (kelvin - before) * Math.sign(away - (kelvin - before)) < -STEP_K;
  if (sigma > WALL_KNOWN_K || !near || !stepped) {
    cylinder.wallRefused = 0;
    return false;
  }
  cylinder.wallRefused++;
  if (cylinder.wallRefused < SETTLING[pace]) return false;
  // Wall and air were followed meanwhile: they do not start anew from what it shows.
  cylinder.wallT = cylinder.wallTrend.t;
  probeStrapped(state);
  return true;
}
