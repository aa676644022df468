import { saturatedVapourKgPerM3, saturationTemperatureK } from "../gases/co2-saturation.ts";
import { type BoilState, createBoil, watchBoiling } from "./boil-watch.ts";
import {
  addVariance,
  covariance,
  DRIFT,
  FIRST_DROP,
  GAS,
  RHO,
  SLOW,
  setVariance,
  variance,
  WALL,
} from "./cylinder-filter.ts";
import type { PersonEntry } from "./engine.ts";
import { learnContent, startTemperatures, updatePressure } from "./filter-update.ts";
import type { SupplyPlan } from "./plan.ts";
import { cylinderReadingSigma } from "./reading-grid.ts";
import type { EngineState } from "./supply-state.ts";

/**
 * Content of a CO2 cylinder while it holds liquid: its pressure says nothing of it, so what was
 * filled less what flowed is all there is, with an interval that grows with what was drawn, and a
 * scale where one is fitted. When the pressure falls away from saturation the liquid is gone, and
 * the equation of state takes over.
 */
export interface LiquidState {
  /** Mol present at the last anchor (fill, weighing) and its variance. */
  anchorMol: number;
  anchorVariance: number;
  /** Mol drawn by each drop since, at the conductances as they are now reckoned. */
  drawnMol: number[];
  /** Readings in a row that lie below anything a liquid makes. */
  below: number;
  /** Reckoned content with its variance, before what the pressure says of it, mol. */
  mol: number;
  variance: number;
  /** Temperature at which the liquid boils at the last reading, K; null before one. */
  boilsK: number | null;
  /** Gas that would fill the whole volume at the last pressure, as warm as the wall, mol. */
  gasMol: number;
  /** How far below the wall it boils; null before the first reading, and without liquid. */
  boil: BoilState | null;
}

/** Fillings by weight are good to some percent (1 sigma of the full charge). */
const FILL_SIGMA = 0.02;
/** A mass that somebody weighed, with the stamped tare, 1 sigma, kg (common practice, no source). */
const WEIGHED_SIGMA_KG = 0.1;
/** Share of that gas that is there whatever the sensors are wrong by. */
const VAPOUR_SURE = 0.97;
/** Below this no liquid boils at any wall (CO2 freezes at 5.2 bar), absolute Pa. */
const LOWEST_PA = 6e5;
/** The end of the liquid agrees with what was filled and drawn within this many sigma. */
const PLAUSIBLE_SIGMAS = 2.5;
/** For how long the excess must stand: where the count agrees, and where it does not, s. */
const BEYOND_S = 150;
const WRONG_S = 600;
/** The last liquid's gas below the wall: its 1 sigma and the most that is taken, K. */
const COLD_SIGMA_K = 1.5;
const MOST_COLD_K = 8;
const MISSED_PA = 0.2e5;
/** Where liquid boiled the wall is colder than where the probe sits: 1 sigma, K; fades in an hour. */
const UNEVEN_SIGMA_K = 0.8;
/** A shop scale with hose and regulator on it, 1 sigma, kg. */
const SCALE_SIGMA_KG = 0.12;

export function createLiquid(plan: SupplyPlan): LiquidState {
  const full = plan.liquid?.filledMol ?? 0;
  const present = plan.liquid?.presentMol ?? null;
  return anchored(plan, present ?? full, present !== null);
}

/** Counting starts from `mol`, which somebody weighed or a filling left. */
function anchored(plan: SupplyPlan, mol: number, weighed: boolean): LiquidState {
  const filled = FILL_SIGMA * (plan.liquid?.filledMol ?? 0);
  const onScale = (WEIGHED_SIGMA_KG * plan.filter.count) / plan.gas.mixture.molarMassKgPerMol;
  const variance = (weighed ? Math.min(onScale, filled) : filled) ** 2;
  return {
    anchorMol: mol,
    anchorVariance: variance,
    drawnMol: plan.drops.map(() => 0),
    below: 0,
    mol,
    variance,
    boilsK: null,
    gasMol: 0,
    boil: null,
  };
}

/** Another cylinder: full unless said otherwise. */
export function fitLiquid(plan: SupplyPlan, state: EngineState, presentKg: number | null): void {
  const molar = plan.gas.mixture.molarMassKgPerMol;
  const mol = presentKg === null ? (plan.liquid?.filledMol ?? 0) : presentKg / molar;
  state.liquid = anchored(plan, mol, presentKg !== null);
  state.cylinder.liquid = true;
  writeLiquid(plan, state);
}

/** What a person says of the liquid in a cylinder whose change the readings showed: it was there when it was fitted. */
export function tellLiquid(
  plan: SupplyPlan,
  state: EngineState,
  { presentKg, filledKg }: NonNullable<PersonEntry["swap"]>,
): void {
  const kg = presentKg ?? filledKg;
  if (kg === undefined) return;
  const { drawnMol, boil } = state.liquid;
  fitLiquid(plan, state, kg);
  state.liquid.drawnMol = drawnMol;
  state.liquid.boil = boil;
  writeLiquid(plan, state);
}

/** Draws `flows` (mol/s by drop) for `dtS` and `extraMol` besides. */
export function drawLiquid(
  plan: SupplyPlan,
  state: EngineState,
  t: number,
  dtS: number,
  flows: ArrayLike<number>,
  extraMol: number,
): void {
  for (let i = 0; i < plan.drops.length; i++) {
    state.liquid.drawnMol[i] = state.liquid.drawnMol[i]! + flows[i]! * dtS;
  }
  state.liquid.drawnMol[0] = state.liquid.drawnMol[0]! + extraMol;
  state.filter.t = t;
  writeLiquid(plan, state);
}

/** Puts content and its variance where the figures are read from. */
function writeLiquid(plan: SupplyPlan, state: EngineState): void {
  const { filter, liquid } = state;
  const volume = plan.filter.waterVolumeM3;
  let mol = liquid.anchorMol;
  let spread = liquid.anchorVariance;
  for (let i = 0; i < plan.drops.length; i++) {
    const drawn = liquid.drawnMol[i]!;
    mol -= drawn;
    // One conductance, one error: what was drawn is wrong by the same share throughout.
    spread += drawn * drawn * (variance(filter, FIRST_DROP + i) + 0.01 ** 2);
  }
  liquid.mol = mol;
  liquid.variance = spread;
  // There is at least the gas that fills the volume at this pressure, as warm as the wall.
  const least = VAPOUR_SURE * liquid.gasMol;
  const known = above(mol, spread, least);
  filter.x[RHO] = known.mean / volume;
  setVariance(filter, RHO, known.variance / volume ** 2);
  filter.started = true;
}

function goneMol(plan: SupplyPlan, temperatureK: number): number {
  const kelvin = Math.min(Math.max(temperatureK, 230), 303.5);
  const kg = saturatedVapourKgPerM3(kelvin) * plan.filter.waterVolumeM3;
  return kg / plan.gas.mixture.molarMassKgPerMol;
}

/** Heat capacity of a mol of CO2 over its heat of evaporation, 1/K (110 J/(mol K), 9.5 kJ/mol at 5 °C). */
const SENSIBLE_PER_K = 0.011;

/** Mol of liquid that evaporate as the content warms by a kelvin: they fill the space above, and cool the rest. */
function evaporatesPerK(plan: SupplyPlan, temperatureK: number, mol: number): number {
  const fills = goneMol(plan, temperatureK + 0.5) - goneMol(plan, temperatureK - 0.5);
  return fills + SENSIBLE_PER_K * mol;
}

/** Likeliest value of a normal figure that lies above `least`, and its mean square about that. */
function above(mean: number, variance: number, least: number): { mean: number; variance: number } {
  const sigma = Math.sqrt(variance);
  const u = (least - mean) / Math.max(sigma, 1e-9);
  if (u < -4) return { mean, variance };
  // Far above the figure the limit is all that is known.
  if (u > 4) return { mean: least, variance: (0.3 * sigma) ** 2 };
  // Inverse Mills ratio; the tail by Abramowitz and Stegun, equation 26.2.17.
  const density = Math.exp(-0.5 * u * u) / Math.sqrt(2 * Math.PI);
  const k = 1 / (1 + 0.2316419 * Math.abs(u));
  const series =
    k *
    (0.31938153 + k * (-0.356563782 + k * (1.781477937 + k * (-1.821255978 + k * 1.330274429))));
  const mills = density / (u >= 0 ? density * series : 1 - density * series);
  const likeliest = Math.max(mean, least);
  const off = mean + sigma * mills - likeliest;
  return {
    mean: likeliest,
    variance: variance * Math.max(1 + u * mills - mills * mills, 0.02) + off * off,
  };
}

/** The liquid is gone. */
export interface LiquidEnd {
  /** By all that was filled and drawn it could be gone. */
  plausible: boolean;
  /** How far the last of it boiled below the wall, K. */
  coldK: number;
}

/**
 * Takes in a reading (absolute Pa) and says whether the liquid is gone: the pressure is that of
 * saturation further below the wall's temperature than evaporation cools the liquid. Null while it is there.
 */
export function liquidEnd(
  plan: SupplyPlan,
  state: EngineState,
  t: number,
  absolutePa: number,
  flow: number,
): LiquidEnd | null {
  const { liquid, cylinder, filter } = state;
  const wallK = cylinder.wallK ?? filter.x[WALL]!;
  if (absolutePa < LOWEST_PA) {
    liquid.below++;
    return liquid.below < 6 ? null : { plausible: false, coldK: 0 };
  }
  liquid.below = 0;
  if (wallK > 304 || absolutePa > 7.3e6) {
    liquid.boil = null;
    return null;
  }
  const saturationK = saturationTemperatureK(absolutePa);
  liquid.boilsK = saturationK;
  // Where no probe reads there is nothing to compare the pressure with.
  if (cylinder.wallK === null) return null;
  const gas = plan.gas.densityAt(absolutePa, Math.max(wallK, saturationK + 0.5), 1);
  liquid.gasMol = Number.isFinite(gas) ? gas * plan.filter.waterVolumeM3 : 0;
  liquid.boil ??= createBoil(t);
  const molPerK = evaporatesPerK(plan, saturationK, liquid.mol);
  const { coldK, beyondS, far } = watchBoiling(liquid.boil, t, wallK - saturationK, flow, molPerK);
  const sigma = Math.sqrt(liquid.variance);
  const plausible = liquid.mol - PLAUSIBLE_SIGMAS * sigma < goneMol(plan, saturationK);
  const gone = plausible ? beyondS >= BEYOND_S : far && beyondS >= WRONG_S;
  return gone ? { plausible, coldK } : null;
}

/** No liquid any more: what is left fills the volume as a gas, and the filter takes over. */
export function leaveLiquid(
  plan: SupplyPlan,
  state: EngineState,
  t: number,
  readingPa: number,
  end: LiquidEnd,
): void {
  const { liquid, filter, cylinder } = state;
  const wallK = cylinder.wallK ?? filter.x[WALL]!;
  startTemperatures(filter, wallK, COLD_SIGMA_K);
  addVariance(filter, DRIFT, UNEVEN_SIGMA_K ** 2);
  // Close to saturation a tenth of a kelvin is a tenth of a bar: what the model of heat misses there
  // counts as slow error until the readings show that it is less.
  filter.slowVariance = Math.max(filter.slowVariance, MISSED_PA ** 2);
  setVariance(filter, SLOW, filter.slowVariance);
  filter.x[GAS] = wallK - Math.min(end.coldK, MOST_COLD_K);
  setVariance(filter, RHO, 1);
  filter.started = false;
  filter.t = t;
  cylinder.liquid = false;
  cylinder.knownFrom = t;
  liquid.below = 0;
  liquid.boil = null;
  const noisePa = cylinderReadingSigma(plan, state);
  updatePressure(plan.filter, filter, readingPa, noisePa, Number.POSITIVE_INFINITY);
  if (end.plausible) joinCounted(plan, state);
}

/** What was filled less what flowed, beside the first gas pressure after the liquid: both are right. */
function joinCounted(plan: SupplyPlan, state: EngineState): void {
  const { liquid, filter } = state;
  const volume = plan.filter.waterVolumeM3;
  const drawn = liquid.drawnMol.map((mol) => mol / volume);
  const noise = liquid.drawnMol.reduce(
    (sum, mol) => sum + (0.01 * mol) ** 2,
    liquid.anchorVariance,
  );
  learnContent(filter, liquid.mol / volume, noise / volume ** 2, drawn);
}

/** A weighing (gross kg): anchors the content and corrects the conductances by what was drawn. */
export function weigh(plan: SupplyPlan, state: EngineState, grossKg: number): void {
  const tare = plan.liquid?.tareKg;
  if (tare === null || tare === undefined || !state.cylinder.liquid) return;
  const { liquid, filter } = state;
  const molar = plan.gas.mixture.molarMassKgPerMol;
  const mol = (grossKg - tare) / molar;
  const full = plan.liquid?.filledMol ?? 0;
  if (!(mol > -0.05 * full && mol < 1.2 * full)) return;
  let expected = liquid.anchorMol;
  let spread = liquid.anchorVariance + (SCALE_SIGMA_KG / molar) ** 2;
  for (let i = 0; i < plan.drops.length; i++) {
    const drawn = liquid.drawnMol[i]!;
    expected -= drawn;
    spread += drawn * drawn * variance(filter, FIRST_DROP + i);
  }
  const away = mol - expected;
  for (let i = 0; i < plan.drops.length; i++) {
    const drop = FIRST_DROP + i;
    const cross = -liquid.drawnMol[i]! * covariance(filter, drop, drop);
    filter.x[drop] = filter.x[drop]! + (cross / spread) * away;
    setVariance(
      filter,
      drop,
      Math.max(variance(filter, drop) - (cross * cross) / spread, 0.01 ** 2),
    );
    liquid.drawnMol[i] = 0;
  }
  const own = spread - (SCALE_SIGMA_KG / molar) ** 2;
  const gain = own / spread;
  liquid.anchorMol = Math.max(0, expected + gain * away);
  liquid.anchorVariance = (1 - gain) * own;
  writeLiquid(plan, state);
}
