import type { PlantGasName } from "./gas.ts";
import type { WeatherConfig } from "./weather.ts";

/** Cylinder, or manifold of `count` equal ones on one header. */
export interface PlantCylinder {
  waterVolumeM3: number;
  count: number;
  /** Steel of one cylinder, kg. */
  steelKg: number;
  /** Multiplies the time constant between gas and wall: 1 ordinary, 2 a sluggish cylinder. */
  thermalLag: number;
  /** Leak before the regulator's seat (valve stem, connection), as a choked orifice: mol/s per Pa. */
  leakMolPerSPa: number;
}

/**
 * Regulator, by what it does at the edge of its body. Pressures are gauge. Outlet against flow:
 * delivery at the rated flow, up by `lockUpPa` at rest.
 */
export interface PlantRegulator {
  deliveryPa: number;
  ratedMolPerS: number;
  /** Inlet pressure at which the setting was made, absolute Pa. */
  ratedInletPa: number;
  /** Outlet change per inlet change: negative by the textbook (rises as the cylinder empties), positive sags. */
  supplyEffect: number;
  /** Added sag near empty: outlet falls by this at zero inlet, fading in below `sagFromPa` of inlet. */
  sagPa: number;
  sagFromPa: number;
  /** Rise from rated flow to rest. */
  lockUpPa: number;
  /** Share of the lock-up that closes slowly (the tail after gas-off), 0 to 1. */
  closingTail: number;
  /** Seat wide open, choked: mol/s per Pa of inlet. */
  seatMolPerSPa: number;
  /** Leak through the closed seat: mol/s per Pa of inlet. */
  seatLeakMolPerSPa: number;
  reliefPa: number;
  highSideM3: number;
  /** Low-side volume from seat to restriction, header pipe included. */
  bodyM3: number;
  bodyHeatJPerK: number;
  bodyToAirWPerK: number;
  heaterW: number;
  /** Icing: below this body temperature the delivery falls by `icingPerK` of itself for each kelvin. */
  icingBelowC: number;
  icingPerK: number;
  /** Most CO2 snow that the cold body can hold, mol; 0 switches snow off. */
  snowMol: number;
}

export type PlantDevice =
  | {
      kind: "variable-area";
      valve: "after-tube" | "before-tube";
      /** Absolute pressure (Pa), temperature (K) and density at `metric20`-like reference of the scale. */
      scalePa: number;
      scaleK: number;
      /** kg per standard m³ of the scale gas and of the gas in use, at the scale's reference. */
      scaleGasDensity: number;
      gasDensity: number;
      /** mol in one standard litre of the scale's reference. */
      molPerScaleLitre: number;
      /** Units on the scale per standard L/min: 1 for L/min, 2.11888 for CFH. */
      unitsPerLpm: number;
      /** This tube's own error: indicated = ideal × factor. */
      floatFactor: number;
      /** Needle wide open, mol/s per Pa. */
      needleWideOpen: number;
    }
  | {
      kind: "orifice-gauge";
      /** Orifice, choked, mol/s per Pa at 20 °C. */
      orifice: number;
      /** Dial units per absolute Pa upstream (choked, scale gas). */
      unitsPerPa: number;
    }
  | { kind: "metered"; needleWideOpen: number; molPerUnit: number; unitsPerLpm: number };

export interface PlantDrop {
  device: PlantDevice;
  /** Critical pressure ratio of needle or orifice: 0.487 a nozzle on argon, about 0.2 a thin plate. */
  restrictionRatio: number;
  hoseM3: number;
  /** Torch valve, gooseneck and nozzle wide open: mol/s per Pa. */
  torchMolPerSPa: number;
  /** Leak of hose and fittings: mol/s per Pa absolute. */
  hoseLeakMolPerSPa: number;
  tap: "regulator-outlet" | "hose";
}

/** How one pressure channel errs. Pressures in Pa. */
export interface PressureSensorConfig {
  rangePa: number;
  /** Limit of offset and span together, share of the range (0.005 for 0.5 %). */
  classLimit: number;
  /** Error at zero and at full scale, each a share of the limit in [-1, 1]; drawn from the seed if absent. */
  zeroShare?: number;
  spanShare?: number;
  noisePa: number;
  lagS: number;
  /** Share of the range per kelvin that the sensor's body is away from 20 °C. */
  driftPerK: number;
  /** Half-width of the hysteresis loop, share of the range. */
  hysteresis: number;
  /** Converter step; 0 for none. */
  stepPa: number;
}

export interface TemperatureSensorConfig {
  /** Fixed error, K; drawn within ±0.5 from the seed if absent. */
  offsetK?: number;
  noiseK: number;
  lagS: number;
  stepK: number;
  /** Share of the part it is strapped to (wall, body; the hose for the air's probe); the rest is air. */
  contact: number;
  /** Error that draughts and a strap that works loose make, to and fro: amplitude, K, and period, s. */
  draughtK?: number;
  draughtPeriodS?: number;
}

export interface PlantSensors {
  cylinder: PressureSensorConfig;
  line: PressureSensorConfig | null;
  wall: TemperatureSensorConfig | null;
  body: TemperatureSensorConfig | null;
  /** Contact 0 for free air, near 1 where it hangs on the hose and shares its sun. */
  air: TemperatureSensorConfig | null;
  /** Whether a current switch sits on the lead. */
  arc: boolean;
}

export interface PlantConfig {
  gas: PlantGasName;
  startUnixS: number;
  cylinder: PlantCylinder;
  /** Content at the start: settled gauge pressure at a temperature, or mass. */
  fill: PlantFill;
  regulator: PlantRegulator;
  drops: PlantDrop[];
  sensors: PlantSensors;
  weather: WeatherConfig;
}

/** `waterVolumeM3` where the cylinder (each of a bank) is of another size than the one before. */
export type PlantFill =
  | { gaugePa: number; temperatureK: number; waterVolumeM3?: number }
  | { massKg: number };

/** A sensor class of 0.5 % with the noise and step of a 16-bit converter on a ratiometric output. */
export function pressureSensor(
  rangeBar: number,
  accuracyPercentFs = 0.5,
  noiseBar = rangeBar > 50 ? 0.03 : 0.004,
): PressureSensorConfig {
  return {
    rangePa: rangeBar * 1e5,
    classLimit: accuracyPercentFs / 100,
    noisePa: noiseBar * 1e5,
    lagS: 0.05,
    driftPerK: 0.00005,
    hysteresis: 0.0004,
    // 187.5 µV of a 4 V span.
    stepPa: (rangeBar * 1e5 * 187.5e-6) / 4,
  };
}

/** A digital probe strapped to steel: ±0.5 °C, sixteenths of a degree, half a minute of lag. */
export function temperatureProbe(contact = 0.93): TemperatureSensorConfig {
  return { noiseK: 0.02, lagS: 30, stepK: 0.0625, contact };
}
