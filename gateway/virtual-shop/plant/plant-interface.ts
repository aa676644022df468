import type { PlantConfig, PlantFill } from "./config.ts";
import type { PlantGas } from "./gas.ts";
import type { PlantSensorSet, SensorReadings } from "./sensors.ts";

/** What people and the day do to one torch place. Write to it at any time between steps. */
export interface DropInputs {
  torchOpen: boolean;
  arc: boolean;
  /** Needle, mol/s per Pa of upstream pressure at 20 °C. */
  needle: number;
  /** Share of the torch's free passage, 1 clean, 0 blocked. */
  nozzleShare: number;
}

export interface PlantInputs {
  cylinderValveOpen: boolean;
  /** Gauge Pa that the screw gives at the rated flow and inlet. */
  deliveryPa: number;
  /** Regulator screw backed off: the seat stays closed whatever the outlet. */
  screwBackedOff: boolean;
  /** Replaces the weather's air temperature where not null, °C. */
  airC: number | null;
  /** Replaces the day's sun where not null: share of full sun, 0 to 1. */
  sunShare: number | null;
  drops: DropInputs[];
}

/** The truth about one drop at this moment. */
export interface DropTruth {
  /** Through the flow device, mol/s and L/min at 20 °C, 101.325 kPa. */
  deviceMolPerS: number;
  deviceLpm: number;
  /** Out of the torch. */
  torchMolPerS: number;
  torchLpm: number;
  /** Absolute, before and after the restriction, Pa. */
  bodyPa: number;
  hosePa: number;
  /** What the device's scale shows, in its own unit. */
  indicated: number;
}

/** The truth about the supply. The same object each time: copy what you keep. */
export interface PlantTruth {
  t: number;
  contentMol: number;
  contentLitres: number;
  contentKg: number;
  /** Content above which `residualGaugePa` lies at this gas temperature. */
  usableLitres: number;
  /** Absolute, of the cylinder's inside and of the high side, Pa. */
  cylinderPa: number;
  highSidePa: number;
  airPa: number;
  gasK: number;
  wallK: number;
  bodyK: number;
  airK: number;
  hoseK: number;
  /** Gas at the restriction. */
  flowK: number;
  liquidShare: number;
  snowMol: number;
  cylinderLeakLpm: number;
  lineLeakLpm: number;
  seatLeakLpm: number;
  /** Moles that ever left: through torches, leaks and relief. */
  leftMol: number;
  drops: DropTruth[];
}

/**
 * A simulated supply: cylinder, regulator, line, 1 to n torch places and their sensors. Nothing here
 * is shared with the estimator. Deterministic: the same config, seed and inputs give the same plant.
 */
export interface Plant {
  readonly config: PlantConfig;
  readonly gas: PlantGas;
  readonly inputs: PlantInputs;
  readonly sensors: PlantSensorSet;
  /** Unix seconds. */
  readonly t: number;
  /** Advances by `dtS` (any size; cut into steps by itself). */
  step(dtS: number): void;
  /** Readings of one drop's node, taken now; each call draws new noise. The same object each time. */
  readSensors(drop?: number): SensorReadings;
  truth(residualGaugePa?: number): PlantTruth;
  /** Turns needle or screw until the scale shows `reading` with gas flowing at the present cylinder pressure. */
  setReading(reading: number, drop?: number): void;
  /** Turns needle or screw until this much passes with gas flowing, L/min `metric20`. */
  setTrueFlow(lpm: number, drop?: number): void;
  /** Turns the regulator's screw until this much passes the device as it stands, L/min `metric20`. */
  setDeliveryFor(lpm: number, drop?: number): void;
  /**
   * Gauge cylinder pressure at which the regulator, wide open, with the device opened, passes just
   * this flow (L/min `metric20`), Pa.
   */
  regulatorLimitPa(lpm: number, drop?: number): number;
  /** All gas on the supply, mol: cylinder, high side, line and snow. */
  contentMol(): number;
  /** Fits another cylinder (valve closed first by whoever does it). */
  swap(fill: PlantFill): void;
}
