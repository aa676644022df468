import { ordinaryBody } from "../regulator/body-heat.ts";
import { type BodySurroundings, PRIOR } from "./regulator-watch.ts";

/**
 * A regulator's body that nobody measures: how cold it may be after gas flowed through it, reckoned on the
 * cold side. The heat balance is that of `regulator-watch.ts`, for a body that takes in less heat and gives
 * more to the gas than an ordinary one, by 1 sigma each of what bodies differ.
 */
const LESS_INTAKE = Math.exp(-PRIOR.a);
const MORE_GIVEN = Math.exp(PRIOR.b);

const { heatCapacityJPerK, airConductanceWPerK, valveConductanceWPerK, effectiveness } =
  ordinaryBody;
const intakePerS =
  (LESS_INTAKE * (airConductanceWPerK + valveConductanceWPerK)) / heatCapacityJPerK;
const givenPerJ = (MORE_GIVEN * effectiveness) / heatCapacityJPerK;

/** No regulator gets colder than its gas, which snows at this, K: dry ice at 1 atm (CRC Handbook, from memory). */
const coldestK = 194.7;

/** A colder body no longer closes where a warm one does, and CO2 snow may be left in it, K: -8 °C (common practice, no source). */
const closesLowerK = 265.15;
/** A cold body has thawed by then, s (common practice, no source). */
const THAW_S = 1800;
/** So far below the room a body is cold, K. */
export const COLD_K = 2.5;
/** What happened in a gap longer than this nobody saw, s. */
const GAP_S = 600;

/** What is remembered of a body that nobody measures. */
export interface UnseenBody {
  /** Latest sample of its line, Unix s; 0 before the first. */
  t: number;
  /** So far below the room it may be, K. */
  belowK: number;
  /** Unix s until which it may be thawing from so cold that nothing bounds what the line does. */
  thawsUntil: number;
}

export function createUnseenBody(): UnseenBody {
  return { t: 0, belowK: 0, thawsUntil: 0 };
}

/**
 * Moves it on to `t`. In place.
 *
 * @param around null while nothing is known of room and cylinder
 * @param probeK of a probe on the body; null where none is fitted, or it is not heard
 */
export function stepUnseenBody(
  body: UnseenBody,
  t: number,
  around: BodySurroundings | null,
  probeK: number | null,
): void {
  const dtS = t - body.t;
  const unseen = probeK === null && dtS > GAP_S;
  body.t = t;
  if (around !== null) {
    const belowK = probeK === null ? reckonedK(body, dtS, around) : around.roomK - probeK;
    body.belowK = Math.fround(Math.min(Math.max(0, belowK), around.roomK - coldestK));
  }
  const cold = around !== null && around.roomK - body.belowK < closesLowerK;
  if (unseen || cold) body.thawsUntil = t + THAW_S;
}

function reckonedK(body: UnseenBody, dtS: number, around: BodySurroundings): number {
  const { roomK, heat } = around;
  const molPerS = Math.max(0, around.molPerS);
  const rate = intakePerS + givenPerJ * molPerS * heat.cp;
  const settledK = (givenPerJ * molPerS * (heat.atZeroC + heat.cp * (roomK - 273.15))) / rate;
  if (!Number.isFinite(settledK)) return body.belowK;
  return settledK + (body.belowK - settledK) * Math.exp(-rate * Math.max(dtS, 0));
}

/** Greatest rate at which it may be warming, K/s. */
export function mostWarmingKPerS({ belowK }: UnseenBody): number {
  const intake = airConductanceWPerK + valveConductanceWPerK;
  return (belowK * intake) / (LESS_INTAKE * heatCapacityJPerK);
}
