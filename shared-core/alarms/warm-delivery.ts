import type { StationSnapshot } from "./condition.ts";

/**
 * What a regulator delivered while its body was above freezing: what cold takes away shows against
 * that, and against nothing else. The usual pressure will not do, for it also moves with the
 * cylinder (supply-pressure effect), with each swap and with the screw.
 */
export interface WarmDelivery {
  /** Last moment that it was seen, Unix s. */
  t: number;
  /** Line while gas flowed, and cylinder then, gauge Pa. */
  linePa: number;
  cylinderPa: number;
  /** Highest that the line came to rest at soon after the torch closed, gauge Pa; null: not seen yet. */
  restPa: number | null;
  /** The body has been colder than it closes as a warm one does, and has not closed warm since. */
  cold: boolean;
}

/** Water freezes; no body above it was ever throttled by ice. */
export const freezingK = 273.15;
/** Gas on for so long before the line has settled, s. */
const settledS = 10;
/** A body warmer than this still closes where a warm one does, K: -8 °C (common practice, no source). */
const restBodyK = 265.15;
/** The line rests from so long after gas-off, s; what comes later may be creep already. */
const restFromS = 15;
const restUntilS = 60;
/**
 * The line may come to rest this share of the absolute pressure higher: within a minute the seat has
 * not closed to the last, and the gas in the body warms by a seventh (common practice, no source).
 */
const restMargin = 0.05;
const standardPa = 101_325;
/** Share of a new sample: about a minute of gas-on at 1 s. */
const share = 0.02;
/** A cylinder that gained so much is another one, whether told or not, Pa. */
const swapPa = 10e5;
/** Greatest supply-pressure effect of a single stage: 2 psi for each 100 psi (common practice, no source). */
const supplyEffect = 0.02;
/** Delivery this far down has begun to fail: before the 5 % that a weld may notice. */
const begunShare = 0.97;

function settled({ mode, gasOnSince, t }: StationSnapshot): boolean {
  return mode === "flowing" && gasOnSince !== null && t - gasOnSince >= settledS;
}

function rests({ mode, gasOffSince, t }: StationSnapshot): boolean {
  if (mode !== "idle" || gasOffSince === null) return false;
  return t - gasOffSince >= restFromS && t - gasOffSince <= restUntilS;
}

/** Takes one moment; null where nothing is known of this cylinder and this setting. */
export function noteWarmDelivery(
  known: WarmDelivery | null,
  snapshot: StationSnapshot,
): WarmDelivery | null {
  const { t, linePa, cylinderPa, regulatorK, lastSwap, lastReDial } = snapshot;
  let kept = known;
  if (kept !== null) {
    const changedT = Math.max(lastSwap?.t ?? 0, lastReDial?.t ?? 0);
    if (changedT > kept.t) kept = null;
    else if (cylinderPa !== null && cylinderPa > kept.cylinderPa + swapPa) kept = null;
  }
  if (linePa === null || cylinderPa === null || regulatorK === null) return kept;
  if (kept !== null && regulatorK < restBodyK && !kept.cold) kept = { ...kept, cold: true };
  if (kept !== null && regulatorK >= restBodyK && rests(snapshot)) {
    return { ...kept, restPa: Math.max(kept.restPa ?? 0, linePa), cold: false };
  }
  if (regulatorK < freezingK || !settled(snapshot)) return kept;
  if (kept === null) return { t, linePa, cylinderPa, restPa: null, cold: false };
  return {
    ...kept,
    t,
    linePa: kept.linePa + share * (linePa - kept.linePa),
    cylinderPa: kept.cylinderPa + share * (cylinderPa - kept.cylinderPa),
  };
}

/** Whether delivery falls with the cold: the body below freezing, and the line down by more than the cylinder explains. */
export function coldHasBegun(snapshot: StationSnapshot, warm: WarmDelivery | null): boolean {
  const { linePa, cylinderPa, regulatorK } = snapshot;
  if (warm === null || !settled(snapshot)) return false;
  if (linePa === null || cylinderPa === null || regulatorK === null) return false;
  if (regulatorK >= freezingK) return false;
  const explained = supplyEffect * Math.abs(warm.cylinderPa - cylinderPa);
  return linePa < begunShare * warm.linePa - explained;
}

/**
 * Whether an idle line may just be coming back to where the warm regulator closes: cold had lowered
 * that, and as the body thaws the seat lets the missing gas in. Above that level nothing comes back,
 * nor in a body that was merely cool.
 */
export function comesBack({ linePa }: StationSnapshot, warm: WarmDelivery | null): boolean {
  if (linePa === null || warm === null || warm.restPa === null || !warm.cold) return false;
  return linePa + standardPa < (warm.restPa + standardPa) * (1 + restMargin);
}
