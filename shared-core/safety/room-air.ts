import { type Result, requireWithin, toResult } from "../errors.ts";

/**
 * Air in a room after gas has been let out, well mixed. A caution and no promise: argon and CO2
 * pool low, corners do not mix, and CO2 harms below the level at which oxygen falls short.
 * An oxygen monitor, local codes and common sense go first.
 */
export const roomAirSource = "well-mixed-room";

/** Oxygen in dry clean air, volume fraction; carbon dioxide, outdoors. */
export const AIR_OXYGEN = 0.2095;
export const AIR_CARBON_DIOXIDE = 0.000_42;
export const airSource = "us-standard-atmosphere-1976";

/** Oxygen-deficient below this: 29 CFR 1910.134(b), 1910.146(b). */
export const OXYGEN_DEFICIENT = 0.195;
/** Oxygen-enriched above this: 29 CFR 1910.146(b). */
export const OXYGEN_ENRICHED = 0.235;
export const oxygenLimitSource = "cfr-29-1910";

/** OSHA permissible exposure limit of CO2, 8 h: 5000 ppm (29 CFR 1910.1000, table Z-1). */
export const CARBON_DIOXIDE_LONG_TERM = 0.005;
/** ACGIH short-term limit of CO2, 15 min: 30 000 ppm. */
export const CARBON_DIOXIDE_SHORT_TERM = 0.03;
/** NIOSH: immediately dangerous to life or health, 40 000 ppm. */
export const CARBON_DIOXIDE_DANGER = 0.04;
export const carbonDioxideLimitSource = "osha-z-1";

/** A gas let out into a room. Volumes at room conditions. */
export type Release = Readonly<{
  roomM3: number;
  /** Volume released at once, m³; 0 for a steady flow only. */
  burstM3?: number;
  /** Steady release, m³/s. */
  steadyM3PerS?: number;
  /** How long it has lasted, s. */
  elapsedS?: number;
  /** Fresh air, room volumes per hour. */
  airChangesPerHour?: number;
  /** Mole fractions of oxygen and carbon dioxide in the gas let out. */
  oxygenFraction?: number;
  carbonDioxideFraction?: number;
}>;

export type RoomAir = Readonly<{
  oxygenFraction: number;
  carbonDioxideFraction: number;
  oxygenDeficient: boolean;
  oxygenEnriched: boolean;
  /** `none`, or the highest of the limits that is passed. */
  carbonDioxideLimit: "none" | "long-term" | "short-term" | "danger";
}>;

/**
 * Oxygen and CO2 of a well-mixed room.
 *
 * A burst displaces: share of the gas = 1 - exp(-V/V_room). A steady flow q with fresh air Q
 * approaches q/(q + Q) with the time constant V_room/(q + Q).
 */
export function roomAir(release: Release): Result<RoomAir> {
  return toResult(() => {
    const room = requireWithin("roomM3", release.roomM3, 0.1, 1e7);
    const burst = requireWithin("burstM3", release.burstM3 ?? 0, 0, 1e7);
    const steady = requireWithin("steadyM3PerS", release.steadyM3PerS ?? 0, 0, 1e4);
    const elapsed = requireWithin("elapsedS", release.elapsedS ?? 0, 0, 1e9);
    const fresh =
      (room * requireWithin("airChangesPerHour", release.airChangesPerHour ?? 0, 0, 1000)) / 3600;
    const oxygenIn = requireWithin("oxygenFraction", release.oxygenFraction ?? 0, 0, 1);
    const carbonDioxideIn = requireWithin(
      "carbonDioxideFraction",
      release.carbonDioxideFraction ?? 0,
      0,
      1,
    );
    const afterBurst = 1 - Math.exp(-burst / room);
    const total = steady + fresh;
    const target = total > 0 ? steady / total : 0;
    const fade = Math.exp((-total * elapsed) / room);
    const share = target + (afterBurst - target) * fade;
    const oxygenFraction = AIR_OXYGEN * (1 - share) + share * oxygenIn;
    const carbonDioxideFraction = AIR_CARBON_DIOXIDE * (1 - share) + share * carbonDioxideIn;
    return {
      oxygenFraction,
      carbonDioxideFraction,
      oxygenDeficient: oxygenFraction < OXYGEN_DEFICIENT,
      oxygenEnriched: oxygenFraction > OXYGEN_ENRICHED,
      carbonDioxideLimit: passedLimit(carbonDioxideFraction),
    };
  });
}

/**
 * Volume of gas (free of oxygen), at room conditions, that brings a well-mixed room without fresh
 * air down to an oxygen fraction, m³: V_room ln(0.2095 / fraction).
 * Throws `PHYSICS_RANGE` for an impossible room or fraction.
 */
export function volumeToOxygenM3(roomM3: number, oxygenFraction = OXYGEN_DEFICIENT): number {
  requireWithin("roomM3", roomM3, 0.1, 1e7);
  requireWithin("oxygenFraction", oxygenFraction, 1e-6, AIR_OXYGEN);
  return roomM3 * Math.log(AIR_OXYGEN / oxygenFraction);
}

function passedLimit(fraction: number): RoomAir["carbonDioxideLimit"] {
  if (fraction > CARBON_DIOXIDE_DANGER) {
    return "danger";
  }
  if (fraction > CARBON_DIOXIDE_SHORT_TERM) {
    return "short-term";
  }
  return fraction > CARBON_DIOXIDE_LONG_TERM ? "long-term" : "none";
}
