import { requireWithin } from "../errors.ts";
import { molarFlowMolPerS, type Restriction } from "../flow/restriction.ts";

/**
 * Static behaviour of a pressure regulator, in the words of ISO 2503 and CGA E-4.
 *
 * Linear about a set point: outlet = set
 *   + supply effect · (inlet at setting - inlet)     either sign; see `supplyEffect`
 *   - droop · (flow - flow at setting)
 *   + lock-up rise, once the seat has closed.
 */
export const deliverySource = "iso-2503-2009";

/** One stage. All pressures absolute, Pa. */
export type RegulatorStage = Readonly<{
  /** Outlet pressure at `setInletPa` and `setFlowMolPerS`. */
  setPa: number;
  setInletPa: number;
  setFlowMolPerS: number;
  /**
   * Rise of the outlet per fall of the inlet, Pa/Pa. Positive where the inlet tends to close the
   * valve (the outlet rises as the cylinder empties), negative where it tends to open it. Single
   * stage 0.003 to 0.02, two stages together 0.0002 to 0.001 (common practice, no source).
   */
  supplyEffect: number;
  /** Fall of the outlet per rise of the flow, Pa s/mol. */
  droopPaSPerMol: number;
  /** Rise when the flow stops, above the droop line at zero flow, Pa. */
  lockUpPa: number;
  /** The seat wide open; limits what passes when the cylinder is nearly empty. */
  wideOpen: Restriction;
}>;

/** One or two stages; the first feeds the second. */
export type Regulator = readonly [RegulatorStage] | readonly [RegulatorStage, RegulatorStage];

/** Outlet pressure that a stage regulates to while gas flows, Pa absolute. */
export function stageOutletPa(stage: RegulatorStage, inletPa: number, molPerS: number): number {
  return (
    stage.setPa +
    stage.supplyEffect * (stage.setInletPa - inletPa) -
    stage.droopPaSPerMol * (molPerS - stage.setFlowMolPerS)
  );
}

/** Outlet pressure that the regulator (one or two stages) regulates to, Pa absolute. */
export function regulatedOutletPa(regulator: Regulator, inletPa: number, molPerS: number): number {
  let pressurePa = inletPa;
  for (const stage of regulator) {
    pressurePa = stageOutletPa(stage, pressurePa, molPerS);
  }
  return pressurePa;
}

/** Outlet pressure after the flow has stopped and the seat has closed, Pa absolute. */
export function lockUpPa(regulator: Regulator, inletPa: number): number {
  let pressurePa = inletPa;
  for (const stage of regulator) {
    pressurePa = Math.min(pressurePa, stageOutletPa(stage, pressurePa, 0) + stage.lockUpPa);
  }
  return pressurePa;
}

/** Supply-pressure effect of all stages together, Pa/Pa: the product, with its sign. */
export function totalSupplyEffect(regulator: Regulator): number {
  // Each stage passes -effect of its inlet's change on; two stages of one sign multiply to rise.
  const gain = regulator.reduce((product, stage) => product * -stage.supplyEffect, 1);
  return -gain;
}

/** Where regulator and the restriction after it settle. */
export type OperatingPoint = Readonly<{
  molPerS: number;
  /** Line pressure between regulator and restriction, Pa absolute. */
  linePa: number;
  /** False where the seat is wide open and the line has sagged below what is regulated. */
  regulated: boolean;
}>;

/**
 * The flow and line pressure at which the regulator delivers what the restriction passes.
 *
 * @param restriction flow device, hose and torch as seen from the regulator
 * @param inletPa cylinder pressure, absolute
 * @param backPa absolute pressure after the restriction
 * @param temperatureK of the gas in line and seat
 */
export function operatingPoint(
  regulator: Regulator,
  restriction: Restriction,
  inletPa: number,
  backPa: number,
  temperatureK: number,
): OperatingPoint {
  requireWithin("inletPa", inletPa, 0, 70e6);
  requireWithin("backPa", backPa, 0, 70e6);
  requireWithin("temperatureK", temperatureK, 60, 700);
  // Rising line pressure: the restriction passes more, the regulator delivers less. One crossing.
  let low = backPa;
  let high = Math.max(inletPa, backPa);
  for (let k = 0; k < 200 && high - low > 1e-9 * high; k++) {
    const linePa = (low + high) / 2;
    const passes = molarFlowMolPerS(restriction, linePa, backPa, temperatureK);
    if (canHold(regulator, inletPa, linePa, passes, temperatureK)) {
      low = linePa;
    } else {
      high = linePa;
    }
  }
  const linePa = (low + high) / 2;
  const molPerS = molarFlowMolPerS(restriction, linePa, backPa, temperatureK);
  const wanted = regulatedOutletPa(regulator, inletPa, molPerS);
  return { molPerS, linePa, regulated: linePa >= wanted * (1 - 1e-6) };
}

/** True if the regulator holds at least `linePa` at its outlet while `molPerS` flows. */
function canHold(
  regulator: Regulator,
  inletPa: number,
  linePa: number,
  molPerS: number,
  temperatureK: number,
): boolean {
  let feedPa = inletPa;
  for (const stage of regulator) {
    const regulated = stageOutletPa(stage, feedPa, molPerS);
    feedPa = Math.min(regulated, wideOpenOutletPa(stage, feedPa, molPerS, temperatureK));
  }
  return feedPa >= linePa;
}

/** Highest outlet pressure at which the wide-open seat still passes a flow; 0 if it never does. */
function wideOpenOutletPa(
  stage: RegulatorStage,
  inletPa: number,
  molPerS: number,
  temperatureK: number,
): number {
  if (!(molarFlowMolPerS(stage.wideOpen, inletPa, 0, temperatureK) > molPerS)) {
    return 0;
  }
  let low = 0;
  let high = inletPa;
  for (let k = 0; k < 100 && high - low > 1e-9 * high; k++) {
    const outletPa = (low + high) / 2;
    if (molarFlowMolPerS(stage.wideOpen, inletPa, outletPa, temperatureK) >= molPerS) {
      low = outletPa;
    } else {
      high = outletPa;
    }
  }
  return low;
}

/**
 * The cylinder pressure, absolute Pa, below which the regulator, wide open, passes less than a
 * part of a target flow. Sag by the supply-pressure effect does not count: the device can be
 * opened further.
 *
 * @param neededLinePa line pressure (absolute) at which the device, as far open as it goes, passes
 *   the wanted flow
 * @param share 0.9 by the project's definition of usable content
 * @returns infinite where not even 40 MPa would do: the seat is too small for the target
 * @throws PhysicsError `PHYSICS_RANGE` for a flow, pressure or temperature that cannot be
 */
export function lowestInletPa(
  regulator: Regulator,
  targetMolPerS: number,
  neededLinePa: number,
  temperatureK: number,
  share = 0.9,
): number {
  const molPerS = requireWithin("targetMolPerS", targetMolPerS, 0, 10) * share;
  let low = requireWithin("neededLinePa", neededLinePa, 0, 40e6);
  let high = 40e6;
  requireWithin("temperatureK", temperatureK, 60, 700);
  const suffices = (inletPa: number): boolean => {
    let feedPa = inletPa;
    for (const stage of regulator) {
      feedPa = wideOpenOutletPa(stage, feedPa, molPerS, temperatureK);
    }
    return feedPa >= neededLinePa;
  };
  if (!suffices(high)) {
    return Number.POSITIVE_INFINITY;
  }
  for (let k = 0; k < 200 && high - low > 1e-6 * high; k++) {
    const inletPa = (low + high) / 2;
    if (suffices(inletPa)) {
      high = inletPa;
    } else {
      low = inletPa;
    }
  }
  return high;
}

/**
 * Closure (lock-up) coefficient R = (p4 - p2) / p2 with gauge pressures: p2 at rated flow, p4
 * about a minute after the flow stopped. Limit 0.3 (ISO 2503, clause from memory). Throws
 * `PHYSICS_RANGE` where there is no flowing pressure to compare with.
 */
export function closureCoefficient(flowingGaugePa: number, closedGaugePa: number): number {
  requireWithin("flowingGaugePa", flowingGaugePa, 1, 70e6);
  requireWithin("closedGaugePa", closedGaugePa, 0, 70e6);
  return (closedGaugePa - flowingGaugePa) / flowingGaugePa;
}

/**
 * Irregularity coefficient i = (p5 - p2) / p2 with gauge pressures: p5 is the extreme outlet as
 * the inlet falls. Limits -0.3 to 0.3 (ISO 2503, clause from memory): so 30 % of pressure wander
 * is within the standard.
 */
export function irregularityCoefficient(flowingGaugePa: number, extremeGaugePa: number): number {
  requireWithin("flowingGaugePa", flowingGaugePa, 1, 70e6);
  requireWithin("extremeGaugePa", extremeGaugePa, 0, 70e6);
  return (extremeGaugePa - flowingGaugePa) / flowingGaugePa;
}

export const CLOSURE_LIMIT = 0.3;
export const IRREGULARITY_LIMIT = 0.3;
