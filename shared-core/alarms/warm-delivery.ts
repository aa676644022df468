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
}

/** Water freezes; no body above it was ever throttled by ice. */
export const freezingK = 273.15;
/** Gas on for so long before the line has settled, s. */
const settledS = 10;
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
  if (!settled(snapshot) || linePa === null || cylinderPa === null || regulatorK === null) {
    return kept;
  }
  if (regulatorK < freezingK) return kept;
  if (kept === null) return { t, linePa, cylinderPa };
  return {
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
