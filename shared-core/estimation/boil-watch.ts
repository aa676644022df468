/**
 * How far the liquid in a CO2 cylinder boils below the wall's temperature, and when that no longer
 * explains the pressure.
 *
 * While there is liquid, heat of evaporation comes through the wall: wall less saturation
 * temperature is s = s0 + a q, with q the flow seen through the liquid's heat capacity, s0 what
 * pressure sensor and probe are wrong by, and a growing slowly as less wall is wetted. A small
 * Kalman filter of (s0, a) follows that. Once the liquid is gone the pressure falls with the
 * content while the wall warms: s runs away by about a kelvin for each percent of a full charge.
 */
export interface BoilState {
  t: number;
  /** Flow as the liquid's temperature sees it, mol/s. */
  flow: number;
  offsetK: number;
  kPerFlow: number;
  /** Covariance of the two: offset, both, K per flow. */
  p: [number, number, number];
  /** What the model misses now, smoothed, K. */
  excessK: number;
  /** Since when the excess is beyond what liquid explains, counted in gas-on; null where it is not. */
  beyondSince: number | null;
}

/** Liquid follows a change of flow no faster and no slower than this, s (orders of magnitude). */
const FOLLOWS_LEAST_S = 300;
const FOLLOWS_MOST_S = 800;
/** Between readings further apart than this nobody saw whether gas was drawn, s. */
const UNSEEN_S = 90;
/** Pressure sensor (1 K for each bar) and probe together, 1 sigma, K. */
const OFFSET_SIGMA_K = 0.8;
/** 8 K at 15 L/min of CO2 as prior 1 sigma, K per mol/s; liquid at the wall takes 1 to 5 K. */
const GAIN_SIGMA = 8 / 0.0104;
/** Random walk of the gain in an hour, share of its present size, and a floor in K per mol/s. */
const GAIN_WALK = 0.12;
const GAIN_WALK_LEAST = 30;
/** What the model of one time constant misses, K, and for how long that hangs together, s. */
const MISSED_K = 0.3;
const TOGETHER_S = 240;
const SMOOTH_S = 40;

export function createBoil(t: number): BoilState {
  return {
    t,
    flow: 0,
    offsetK: 0,
    kPerFlow: 0,
    p: [OFFSET_SIGMA_K ** 2, 0, GAIN_SIGMA ** 2],
    excessK: 0,
    beyondSince: null,
  };
}

/** What a reading says of the liquid. */
export interface Boiling {
  /** Wall less liquid at the present flow, as learnt, K. */
  coldK: number;
  /** Gas-on seconds for which the excess has stood beyond what liquid explains; beyond doubt or not. */
  beyondS: number;
  /** The excess is far beyond anything that a changed flow or level makes. */
  far: boolean;
}

/**
 * Takes in wall less saturation temperature.
 *
 * @param apartK wall less saturation temperature at the pressure read, K
 * @param flow present flow of all drops, mol/s
 * @param molPerK mol of heat of evaporation that the content takes up for each kelvin
 */
export function watchBoiling(
  boil: BoilState,
  t: number,
  apartK: number,
  flow: number,
  molPerK: number,
): Boiling {
  const passedS = Math.max(t - boil.t, 0);
  const dtS = Math.min(passedS, 3600);
  boil.t = t;
  // The wall's heat evaporates what flows, so its conductance is the heat of evaporation over
  // kPerFlow; the heat capacity over that is the time to follow: the less wall is wetted the longer.
  const followsS = Math.min(Math.max(molPerK * boil.kPerFlow, FOLLOWS_LEAST_S), FOLLOWS_MOST_S);
  const keep = Math.exp(-dtS / followsS);
  boil.flow = boil.flow * keep + flow * (1 - keep);
  const [a, b, c] = boil.p;
  const walk = Math.max(GAIN_WALK * boil.kPerFlow, GAIN_WALK_LEAST) ** 2 * (dtS / 3600);
  const grown = c + walk;
  const q = boil.flow;
  const expected = boil.offsetK + boil.kPerFlow * q;
  const away = apartK - expected;
  const smooth = 1 - Math.exp(-dtS / SMOOTH_S);
  boil.excessK += smooth * (away - boil.excessK);
  const known = a + 2 * b * q + grown * q * q;
  const limitK = Math.max(1, 0.3 * boil.kPerFlow * q, 3 * Math.sqrt(known + 0.1 ** 2));
  // Only what is drawn makes the pressure fall away: at rest the last of the liquid follows its wall
  // later than reckoned, which says nothing, and no time counts.
  // Nor does a gap in which nobody saw what was drawn.
  const drawn = flow > 0 && passedS <= UNSEEN_S;
  const since = drawn ? (boil.beyondSince ?? t) : (boil.beyondSince ?? t) + passedS;
  boil.beyondSince = boil.excessK > limitK && (drawn || boil.beyondSince !== null) ? since : null;
  // Neighbouring readings err alike: each counts for its share of the time that hangs together.
  const spread = known + MISSED_K ** 2 * Math.max(1, TOGETHER_S / Math.max(dtS, 1));
  const gainOffset = (a + b * q) / spread;
  const gainFlow = (b + grown * q) / spread;
  // What runs away is not learnt.
  const part = boil.beyondSince === null ? 1 : 0;
  boil.offsetK += part * gainOffset * away;
  boil.kPerFlow = Math.max(0, boil.kPerFlow + part * gainFlow * away);
  boil.p = [
    a - part * gainOffset * (a + b * q),
    b - part * gainOffset * (b + grown * q),
    grown - part * gainFlow * (b + grown * q),
  ];
  const coldK = boil.kPerFlow * q;
  return {
    coldK,
    beyondS: boil.beyondSince === null ? 0 : t - boil.beyondSince,
    far: boil.excessK > 4 + 1.5 * coldK,
  };
}
