import {
  AIR_CARBON_DIOXIDE,
  AIR_OXYGEN,
  CARBON_DIOXIDE_LONG_TERM,
  CARBON_DIOXIDE_SHORT_TERM,
  OXYGEN_DEFICIENT,
} from "../safety/room-air.ts";
import type { StationSnapshot } from "./condition.ts";
import { type Said, says } from "./language/said.ts";

/**
 * When a release of shielding gas takes the air of a room past a limit, well mixed (limits and
 * their sources: safety/room-air.ts). A caution and no
 * promise: argon and CO2 pool low, so the air near the floor can be far worse.
 */

export interface RoomRelease {
  roomM3: number;
  /** Fresh air, room volumes per hour; 0 where not known. */
  airChangesPerHour: number;
  /** Gas into the room, L/min (metric20). */
  gasLpm: number;
  /** How long it has flowed already, s. */
  elapsedS: number;
  /** What is left to flow, L (metric20). */
  leftL: number;
  /** Mole fractions of the gas. */
  oxygenFraction: number;
  co2Fraction: number;
}

export interface RoomAir {
  /** Oxygen now and at its lowest if all the gas goes, as fractions. */
  oxygenNow: number;
  oxygenLeast: number;
  co2Now: number;
  co2Most: number;
  /** Seconds from now until a limit is passed; null where it is not. 0: passed already. */
  oxygenLimitInS: number | null;
  co2LongLimitInS: number | null;
  co2ShortLimitInS: number | null;
}

/**
 * Reckons a well-mixed room with a steady release and fresh air.
 * Mass balance V dC/dt = q - (q + nV) C; with n = 0 it is O2 = 20.95 % exp(-V_gas / V_room).
 */
export function reckonRoom(release: RoomRelease): RoomAir {
  const gasM3PerS = Math.max(0, release.gasLpm) / 60000;
  const freshM3PerS = (release.airChangesPerHour * release.roomM3) / 3600;
  const outM3PerS = gasM3PerS + freshM3PerS;
  const settled = outM3PerS > 0 ? gasM3PerS / outM3PerS : 0;
  const timeConstantS = outM3PerS > 0 ? release.roomM3 / outM3PerS : Number.POSITIVE_INFINITY;
  const endS =
    release.elapsedS + (gasM3PerS > 0 ? Math.max(0, release.leftL) / 1000 / gasM3PerS : 0);
  const shareAt = (seconds: number) => settled * (1 - Math.exp(-seconds / timeConstantS));
  const shareNow = shareAt(release.elapsedS);
  const shareEnd = shareAt(endS);
  const oxygen = (share: number) => AIR_OXYGEN * (1 - share) + release.oxygenFraction * share;
  const co2 = (share: number) => AIR_CARBON_DIOXIDE * (1 - share) + release.co2Fraction * share;
  const until = (share: number): number | null => {
    if (!(share <= shareEnd)) return null;
    if (share <= shareNow) return 0;
    return -timeConstantS * Math.log(1 - share / settled) - release.elapsedS;
  };
  const shareFor = (limit: number, inAir: number, inGas: number) => {
    const share = (limit - inAir) / (inGas - inAir);
    return share >= 0 ? share : Number.POSITIVE_INFINITY;
  };
  return {
    oxygenNow: oxygen(shareNow),
    oxygenLeast: oxygen(shareEnd),
    co2Now: co2(shareNow),
    co2Most: co2(shareEnd),
    oxygenLimitInS: until(shareFor(OXYGEN_DEFICIENT, AIR_OXYGEN, release.oxygenFraction)),
    co2LongLimitInS: until(
      shareFor(CARBON_DIOXIDE_LONG_TERM, AIR_CARBON_DIOXIDE, release.co2Fraction),
    ),
    co2ShortLimitInS: until(
      shareFor(CARBON_DIOXIDE_SHORT_TERM, AIR_CARBON_DIOXIDE, release.co2Fraction),
    ),
  };
}

/** How the air of a place stands: what decides, and when. */
export interface AirDanger {
  reason: "confined" | "oxygen" | "co2-short" | "co2-long";
  /** Seconds until the limit at the present release; 0 in a confined space. */
  inS: number;
  /** Station whose place it is; left out where it is the snapshot's own. */
  at?: string;
}

/** A limit that is passed within this time is near, s (common practice, no source). */
export const airDangerNearS = 1800;

/** Gas that a release may still draw on where the content is not known, L: a full common cylinder. */
const unknownContentL = 11000;

/**
 * The danger of a release at this station, or null: none reckoned, or the place is not known.
 * `elapsedS` is how long it has run; the whole remaining content is taken to follow.
 */
export function airDanger(
  snapshot: StationSnapshot,
  gasLpm: number,
  elapsedS: number,
): AirDanger | null {
  if (snapshot.station.place?.confined) return { reason: "confined", inS: 0 };
  return roomDanger(snapshot, gasLpm, elapsedS);
}

/**
 * The same where the gas may come out at any place that draws from the supply: of them the one whose
 * limit is passed first.
 */
export function worstAirDanger(
  snapshot: StationSnapshot,
  gasLpm: number,
  elapsedS: number,
): AirDanger | null {
  let worst = airDanger(snapshot, gasLpm, elapsedS);
  for (const { name, place } of snapshot.otherPlaces ?? []) {
    const station = { ...snapshot.station, place };
    const there = airDanger({ ...snapshot, station }, gasLpm, elapsedS);
    if (there !== null && (worst === null || there.inS < worst.inS)) worst = { ...there, at: name };
  }
  return worst;
}

/** The same as reckoned from the room alone, confined or not; null where its volume is not known. */
export function roomDanger(
  snapshot: StationSnapshot,
  gasLpm: number,
  elapsedS: number,
): AirDanger | null {
  const place = snapshot.station.place;
  if (place?.roomM3 === undefined || !(gasLpm > 0)) return null;
  const cylinder = snapshot.supply?.cylinder ?? snapshot.station.cylinder;
  const air = reckonRoom({
    roomM3: place.roomM3,
    airChangesPerHour: place.airChangesPerHour ?? 0,
    gasLpm,
    elapsedS,
    leftL: snapshot.content?.meanL ?? unknownContentL,
    oxygenFraction: cylinder?.composition.O2 ?? 0,
    co2Fraction: cylinder?.composition.CO2 ?? 0,
  });
  return firstToTell([
    { reason: "co2-short", inS: air.co2ShortLimitInS },
    { reason: "oxygen", inS: air.oxygenLimitInS },
    { reason: "co2-long", inS: air.co2LongLimitInS },
  ]);
}

/** The gravest limit where it is near; otherwise the one that is passed first: it sets the time to respond. */
function firstToTell(
  gravestFirst: { reason: AirDanger["reason"]; inS: number | null }[],
): AirDanger | null {
  const ahead = gravestFirst.filter((one): one is AirDanger => one.inS !== null);
  const near = ahead.find(({ inS }) => inS < airDangerNearS);
  return near ?? ahead.sort((a, b) => a.inS - b.inS)[0] ?? null;
}

/** `oxygen in the room could fall to 19.5 % in about 40 min`. */
export function dangerSaid({ reason, inS, at }: AirDanger): Said {
  if (reason !== "confined") {
    return says(`danger-${reason}`, at === undefined ? { inS } : { inS, at });
  }
  return at === undefined ? says("danger-confined") : says("danger-confined-at", { at });
}

/** What to do, and what Leeward is not. */
export function dangerAdvice(snapshot: StationSnapshot): Said[] {
  const composition = (snapshot.supply?.cylinder ?? snapshot.station.cylinder)?.composition;
  return [
    says("do-not-go-in"),
    says("gas-gathers", { helium: (composition?.He ?? 0) > 0.5 }),
    ...((composition?.H2 ?? 0) > 0.05 ? [says("hydrogen-burns")] : []),
    says("no-monitor"),
  ];
}
