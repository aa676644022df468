import { demandWindow } from "../demand/index.ts";
import { momentToUnixS } from "../documents/common.ts";
import type { CylinderDocument } from "../documents/cylinder.ts";
import { isLiquidFilled } from "../documents/cylinder.ts";
import type { PressureSensorDocument, RegulatorDocument } from "../documents/hardware.ts";
import type { StationDocument } from "../documents/station.ts";
import { atmosphericPressurePa } from "../units/atmosphere.ts";
import { BODY_SHARE_PER_K, BODY_SHARE_UNSEEN, type FilterPlan } from "./cylinder-filter.ts";
import { type DevicePlan, flowPrior, planDevice } from "./device.ts";
import type { SupplySetup } from "./engine.ts";
import type { DemandWindow } from "./estimate.ts";
import { GasModel, ZERO_C } from "./gas-model.ts";
import { type CandidateModel, otherGases } from "./gas-watch.ts";
import { shape } from "./line-flow.ts";
import { Throttling } from "./regulator-watch.ts";
import { calibrationDueS } from "./site-hours.ts";

/** One drop as the estimator sees it: what the description says, in SI, with defaults. */
export interface DropPlan {
  index: number;
  station: StationDocument;
  node: string | null;
  tap: "regulator-outlet" | "hose";
  regulator: RegulatorDocument | null;
  device: DevicePlan;
  demand: DemandWindow | null;
  /** Gauge pressure at which the drop's conductance is counted, Pa. */
  referencePa: number;
  /** Delivery pressure as described, gauge Pa; null where nobody said. */
  deliveryPa: number | null;
  lineLimitPa: number;
  /** Range of the line sensor, gauge Pa; null where none is described. */
  lineRangePa: number | null;
  atmospherePa: number;
  hoseVolumeM3: number;
  /** When the oldest calibration on record runs out, Unix s; null where none is. */
  calibrationDueT: number | null;
  /** Expected logarithm of the flow in mol/s at the reference pressure, and its 1 sigma. */
  priorLogFlow: number;
  priorSigma: number;
}

/** A supply as the estimator sees it. Rebuilt from the documents; holds no memory. */
export interface SupplyPlan {
  setup: SupplySetup;
  cylinder: CylinderDocument;
  node: string | null;
  /** Every node that reports of the supply: the cylinder's and those of the drops, each once. */
  nodes: string[];
  filter: FilterPlan;
  gas: GasModel;
  throttling: Throttling;
  /** Models of the gases that the cylinder may hold instead; made when first asked for. */
  otherGases(): readonly CandidateModel[];
  /** Relative 1 sigma of the water volume. */
  volumeSigma: number;
  residualPa: number;
  /** Content when full, mol. */
  fullMol: number;
  liquid: {
    filledMol: number;
    presentMol: number | null;
    asOf: number | null;
    tareKg: number | null;
  } | null;
  drops: DropPlan[];
}

const DEFAULT_SENSOR: PressureSensorDocument = { rangeBar: 250, accuracyPercentFs: 0.5 };
const DEFAULT_LINE_SENSOR: PressureSensorDocument = { rangeBar: 10, accuracyPercentFs: 0.5 };

/**
 * A scale's own error (±10 % as a limit) and its reading, 1 sigma; common practice, no source. While
 * a cylinder holds liquid nothing corrects it; elsewhere the mass balance soon does, and the wider
 * prior of `flowPrior` leaves room for a float that was turned since it was described.
 */
const LIQUID_FLOW_SIGMA = 0.08;

/** @throws Error where the documents leave no cylinder at all */
export function planSupply(setup: SupplySetup): SupplyPlan {
  const { supply, stations } = setup;
  const first = stations[0];
  const cylinder = supply?.cylinder ?? first?.cylinder;
  if (!cylinder) {
    throw new Error("the supply has no cylinder: give it one, or name the supply that has");
  }
  const gas = new GasModel(cylinder.composition);
  const sensors = supply?.sensors ?? first?.sensors;
  const sensor = sensors?.cylinder ?? DEFAULT_SENSOR;
  const altitudeM = supply?.altitudeM ?? first?.altitudeM ?? 0;
  const atmospherePa = atmosphericPressurePa(altitudeM);
  const waterVolumeM3 = (cylinder.waterVolumeL * cylinder.count) / 1000;
  const rangePa = sensor.rangeBar * 1e5;
  const line = stations.some((station) => station.sensors?.line !== undefined);
  const filter: FilterPlan = {
    gas,
    waterVolumeM3,
    count: cylinder.count,
    atmospherePa,
    sensorRangePa: rangePa,
    sensorLimitPa: (rangePa * sensor.accuracyPercentFs) / 100,
    driftSharePerK:
      sensor.driftPercentFsPerK === undefined
        ? line
          ? BODY_SHARE_PER_K
          : BODY_SHARE_UNSEEN
        : sensor.driftPercentFsPerK / 100,
    probeLimitK: 0.5,
    drops: stations.length,
    line,
  };
  let liquid: SupplyPlan["liquid"] = null;
  let fullMol: number;
  if (isLiquidFilled(cylinder)) {
    const molar = gas.mixture.molarMassKgPerMol;
    fullMol = (cylinder.filledKg * cylinder.count) / molar;
    liquid = {
      filledMol: fullMol,
      presentMol:
        cylinder.presentKg === undefined ? null : (cylinder.presentKg * cylinder.count) / molar,
      asOf: cylinder.asOf === undefined ? null : momentToUnixS(cylinder.asOf),
      tareKg: cylinder.tareKg === undefined ? null : cylinder.tareKg * cylinder.count,
    };
  } else {
    const density = gas.densityAt(
      cylinder.filledBar * 1e5 + atmospherePa,
      cylinder.filledC + ZERO_C,
    );
    fullMol = (Number.isFinite(density) ? density : 8000) * waterVolumeM3;
  }
  let others: CandidateModel[] | null = null;
  const node = supply?.node ?? first?.node ?? null;
  const drops = stations.map((station, index) => planDrop(setup, station, index, gas));
  return {
    setup,
    cylinder,
    node,
    nodes: [...new Set([node, ...drops.map((drop) => drop.node)])].filter((one) => one !== null),
    filter,
    gas,
    throttling: new Throttling(gas),
    otherGases: () => {
      others ??= otherGases(cylinder.composition);
      return others;
    },
    volumeSigma: (cylinder.waterVolumeUPercent ?? 1) / 100,
    residualPa: (cylinder.residualBar ?? 2) * 1e5,
    fullMol,
    liquid,
    drops,
  };
}

function planDrop(
  setup: SupplySetup,
  station: StationDocument,
  index: number,
  gas: GasModel,
): DropPlan {
  const { supply } = setup;
  const regulator = station.regulator ?? supply?.regulator ?? null;
  const tap = station.lineTap ?? "regulator-outlet";
  const atmospherePa = atmosphericPressurePa(station.altitudeM ?? supply?.altitudeM ?? 0);
  const deliveryPa = regulator?.deliveryBar === undefined ? null : regulator.deliveryBar * 1e5;
  const line = station.sensors?.line ?? DEFAULT_LINE_SENSOR;
  const hose = station.hose ?? { lengthM: 4, boreMm: 6 };
  const device = planDevice(station.flowDevice ?? null, gas, atmospherePa);
  const composition = supply?.cylinder.composition ?? station.cylinder?.composition;
  const window = station.procedure ? demandWindow(station, composition) : null;
  const referencePa = tap === "hose" ? 25_000 : (deliveryPa ?? 300_000);
  const place = { tap, atmospherePa };
  const counted = {
    pa: referencePa,
    passes: shape(place, referencePa) / (referencePa + atmospherePa),
    measured: station.sensors?.line !== undefined,
  };
  const target = window?.targetLpm ?? null;
  const outlet = tap === "hose" ? null : counted;
  const cylinder = supply?.cylinder ?? station.cylinder ?? null;
  const dialled = device.document?.reading !== undefined;
  const liquid = cylinder !== null && isLiquidFilled(cylinder) && dialled;
  const prior = flowPrior(device, gas, deliveryPa, atmospherePa, target, outlet);
  return {
    index,
    station,
    node: station.node ?? supply?.node ?? null,
    tap,
    regulator,
    device,
    demand: window,
    referencePa,
    deliveryPa,
    lineLimitPa: (line.rangeBar * 1e5 * line.accuracyPercentFs) / 100,
    lineRangePa: station.sensors?.line ? station.sensors.line.rangeBar * 1e5 : null,
    atmospherePa,
    hoseVolumeM3: (Math.PI / 4) * (hose.boreMm / 1000) ** 2 * hose.lengthM,
    calibrationDueT: calibrationDueS(setup, station),
    priorLogFlow: Math.log(prior.molPerS),
    priorSigma: liquid ? Math.min(prior.sigma, LIQUID_FLOW_SIGMA) : prior.sigma,
  };
}

/** `metric20` litres that a mole of the supply's gas fills. */
export function litresPerMol(plan: SupplyPlan): number {
  return 1000 / plan.gas.standardMolPerM3;
}
