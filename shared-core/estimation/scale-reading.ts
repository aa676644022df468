import { GAS } from "./cylinder-filter.ts";
import { tubePressure } from "./device.ts";
import { hasLine, lineLost } from "./drop-state.ts";
import type { ScaleReading } from "./estimate.ts";
import type { FlowFigure } from "./flow-figure.ts";
import { MOST_SIGMA, tidy } from "./interval.ts";
import { levelPa, recoveredPa, restrictionK } from "./line-flow.ts";
import { litresPerMol, type SupplyPlan } from "./plan.ts";
import { droopPaPerLpm } from "./regulator-hold.ts";
import type { EngineState } from "./supply-state.ts";

/** What the device's scale shows, and what to set it to. */

/** Why a pressure at the device is not known. */
function noTubeWhy(state: EngineState, drop: number, t: number): string {
  const dropState = state.drops[drop]!;
  if (!lineLost(dropState, t)) return "neither line pressure nor delivery pressure is known";
  const fault = dropState.lineFault ?? "no readings";
  return `the line pressure is not known: its sensor is out (${fault})`;
}

function tubeNow(plan: SupplyPlan, state: EngineState, drop: number, t: number): number | null {
  const dropPlan = plan.drops[drop]!;
  const dropState = state.drops[drop]!;
  const { atmospherePa } = dropPlan;
  const hose = dropPlan.tap === "hose";
  const before =
    dropPlan.device.document?.kind === "variable-area" &&
    dropPlan.device.document.valve === "before-tube";
  if (hasLine(dropState, t) && hose === before) {
    const level =
      dropState.on === true
        ? levelPa(dropPlan, dropState).pa
        : (recoveredPa(dropPlan, dropState, t) ?? dropState.refPa ?? dropState.flowPa);
    if (level !== null) return level + atmospherePa;
  }
  // A sensor that is out is no reason to believe the nameplate again.
  if (lineLost(dropState, t) && hose === before) return null;
  if (dropPlan.deliveryPa === null) return null;
  return tubePressure(dropPlan.device, dropPlan.deliveryPa + atmospherePa, atmospherePa);
}

export function indicated(
  plan: SupplyPlan,
  state: EngineState,
  drop: number,
  t: number,
  figure: FlowFigure,
  flowing: boolean,
): ScaleReading {
  const { device, atmospherePa } = plan.drops[drop]!;
  const dropState = state.drops[drop]!;
  if (device.document === null || device.unit === null) {
    return { reading: null, why: "the station has no flow device" };
  }
  const unit = device.unit;
  if (device.document.kind === "orifice-gauge") {
    const outlet = plan.drops[drop]!.tap !== "hose";
    const line = hasLine(dropState, t) && dropState.linePa !== null && outlet;
    const lost = outlet && lineLost(dropState, t);
    const described = lost ? null : plan.drops[drop]!.deliveryPa;
    const pa = line ? levelPa(plan.drops[drop]!, dropState).pa : described;
    if (pa === null) return { reading: null, unit, why: noTubeWhy(state, drop, t) };
    const reading = device.indicated(0, pa + atmospherePa, 293.15);
    return { reading: reading === null ? null : tidy(Math.max(0, reading), 4), unit };
  }
  if (!flowing) return { reading: 0, unit };
  if (figure.sigma > MOST_SIGMA) return { reading: null, unit, why: "the flow is not known yet" };
  const tube = tubeNow(plan, state, drop, t);
  if (tube === null) return { reading: null, unit, why: noTubeWhy(state, drop, t) };
  const molPerS = figure.lpm / 60 / litresPerMol(plan);
  const reading = device.indicated(molPerS, tube, restrictionK(dropState, state.filter.x[GAS]!));
  return { reading: reading === null ? null : tidy(reading, 4), unit };
}

export function dialTo(
  plan: SupplyPlan,
  state: EngineState,
  drop: number,
  t: number,
  figure: FlowFigure,
  known: boolean,
): ScaleReading {
  const { device, demand, atmospherePa } = plan.drops[drop]!;
  if (device.document === null || device.unit === null) {
    return { reading: null, why: "the station has no flow device" };
  }
  const unit = device.unit;
  const target = demand?.targetLpm ?? null;
  if (target === null)
    return { reading: null, unit, why: demand?.why ?? "the station has no target flow" };
  if (!known) return { reading: null, unit, why: "the flow is not known yet" };
  const tube = tubeNow(plan, state, drop, t);
  if (tube === null) return { reading: null, unit, why: noTubeWhy(state, drop, t) };
  const molPerS = target / 60 / litresPerMol(plan);
  let reading: number | null;
  if (device.document.kind === "orifice-gauge") {
    // Through a fixed orifice the flow follows the absolute pressure.
    reading = device.indicated(0, (tube * target) / figure.lpm, 293.15);
  } else {
    // A tube before the restriction stands at the line's pressure, which droops as more flows.
    const line = device.document.kind === "variable-area" && device.document.valve === "after-tube";
    const perLpm = line
      ? droopPaPerLpm(plan.drops[drop]!, state.drops[drop]!, tube - atmospherePa, figure.lpm)
      : 0;
    reading = device.indicated(
      molPerS,
      Math.max(tube - perLpm * (target - figure.lpm), atmospherePa),
      restrictionK(state.drops[drop]!, state.filter.x[GAS]!),
    );
  }
  if (reading === null) return { reading: null, unit, why: "the device has no scale" };
  if (device.scaleMax !== null && reading > device.scaleMax) {
    return {
      reading: null,
      unit,
      why: "the target cannot be reached within the scale: change the cylinder or the device",
    };
  }
  return { reading: tidy(reading, 4), unit };
}
