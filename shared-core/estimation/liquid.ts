import { saturatedVapourKgPerM3, saturationTemperatureK } from "../gases/co2-saturation.ts";
import {
  covariance,
  FIRST_DROP,
  GAS,
  RHO,
  setVariance,
  startTemperatures,
  variance,
  WALL,
} from "./cylinder-filter.ts";
import type { SupplyPlan } from "./plan.ts";
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
  /** Readings in a row that lie below saturation. */
  below: number;
  /** Reckoned content with its variance, before what the pressure says of it, mol. */
  mol: number;
  variance: number;
  /** Temperature at which the liquid boils at the last reading, K; null before one. */
  boilsK: number | null;
}

/** Fillings by weight are good to some percent (1 sigma of the full charge). */
const FILL_SIGMA = 0.02;
/** A shop scale with hose and regulator on it, 1 sigma, kg. */
const SCALE_SIGMA_KG = 0.12;

export function createLiquid(plan: SupplyPlan): LiquidState {
  const full = plan.liquid?.filledMol ?? 0;
  return {
    anchorMol: plan.liquid?.presentMol ?? full,
    anchorVariance: (FILL_SIGMA * full) ** 2,
    drawnMol: plan.drops.map(() => 0),
    below: 0,
    mol: plan.liquid?.presentMol ?? full,
    variance: (FILL_SIGMA * full) ** 2,
    boilsK: null,
  };
}

/** Another cylinder: full unless said otherwise. */
export function fitLiquid(plan: SupplyPlan, state: EngineState, presentKg: number | null): void {
  const fresh = createLiquid(plan);
  const molar = plan.gas.mixture.molarMassKgPerMol;
  fresh.anchorMol = presentKg === null ? (plan.liquid?.filledMol ?? 0) : presentKg / molar;
  state.liquid = fresh;
  state.cylinder.liquid = true;
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
  // While the pressure stands at saturation there is at least the vapour that fills the volume.
  liquid.mol = mol;
  liquid.variance = spread;
  const gone = liquid.boilsK === null ? 0 : goneMol(plan, liquid.boilsK);
  filter.x[RHO] = Math.max(mol, gone) / volume;
  setVariance(filter, RHO, spread / volume ** 2);
  filter.started = true;
}

function goneMol(plan: SupplyPlan, temperatureK: number): number {
  const kelvin = Math.min(Math.max(temperatureK, 230), 303.5);
  const kg = saturatedVapourKgPerM3(kelvin) * plan.filter.waterVolumeM3;
  return kg / plan.gas.mixture.molarMassKgPerMol;
}

/**
 * Takes in a reading (absolute Pa) and says whether the liquid is gone: the pressure is that of
 * saturation well below the wall's temperature, further than evaporation cools the liquid.
 */
export function liquidGone(
  plan: SupplyPlan,
  state: EngineState,
  absolutePa: number,
  flowing: boolean,
): boolean {
  const { liquid, filter } = state;
  if (filter.x[WALL]! > 304 || absolutePa > 7.3e6 || absolutePa < 6e5) {
    liquid.below = absolutePa < 6e5 ? liquid.below + 1 : 0;
    return liquid.below >= 6;
  }
  const saturationK = saturationTemperatureK(absolutePa);
  liquid.boilsK = saturationK;
  const below = filter.x[WALL]! - saturationK;
  // Evaporation cools the liquid far below the wall too: only where hardly more than the vapour
  // can be left does a low pressure mean that the liquid is gone.
  const sigma = Math.sqrt(liquid.variance);
  const gone = goneMol(plan, saturationK);
  const left = liquid.mol;
  const plausible = left - 2 * sigma < gone;
  const likely = left + 0.3 * sigma < gone;
  const limitK = likely ? 4 : flowing ? 26 : 18;
  liquid.below = plausible && below > limitK ? liquid.below + 1 : 0;
  if (liquid.below < 10) return false;
  startTemperatures(filter, filter.x[WALL]!, 3);
  // The gas that is left has the temperature at which the last liquid boiled.
  filter.x[GAS] = saturationK;
  filter.started = false;
  liquid.below = 0;
  return true;
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
