import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type {
  PlantConfig,
  PlantDevice,
  PlantDrop,
  PlantFill,
  PlantRegulator,
  PlantSensors,
  PressureSensorConfig,
} from "./config.ts";
import { pressureSensor, temperatureProbe } from "./config.ts";
import {
  gasConstant,
  type PlantGas,
  type PlantGasName,
  plantGas,
  plantGasComposition,
} from "./gas.ts";
import { criticalRatio, orificeConductance } from "./network.ts";
import { mildWeather, type WeatherConfig } from "./weather.ts";

/** What a description does not say about the real thing, in trade units; each has an ordinary default. */
export interface PlantVariation {
  startUnixS?: number;
  /** Settled gauge pressure at this temperature at the start; full where absent. */
  presentBar?: number;
  presentC?: number;
  /** CO2: mass at the start. */
  presentKg?: number;
  /** Real water volume over the stamped one. */
  volumeFactor?: number;
  thermalLag?: number;
  cylinderLeakLpm?: number;
  lineLeakLpm?: number;
  /** Outlet change in bar per 100 bar of inlet change: negative by the textbook, positive sags. */
  supplyEffectBarPer100?: number;
  sagBar?: number;
  sagFromBar?: number;
  lockUpBar?: number;
  closingTail?: number;
  /** Delivery really set at the start, gauge bar; the description's where absent. */
  deliveryBar?: number;
  /** Inlet at which delivery was set, gauge bar. */
  setAtBar?: number;
  seatLpmAt10Bar?: number;
  seatCreepLpm?: number;
  heaterW?: number;
  bodyToAirWPerK?: number;
  icingBelowC?: number;
  icingPerK?: number;
  snowGrams?: number;
  headerMl?: number;
  /** This tube's or orifice's own factor. */
  floatFactor?: number;
  orificeFactor?: number;
  restrictionRatio?: number;
  torchBackBar?: number;
  sensors?: Partial<PlantSensors>;
  weather?: Partial<WeatherConfig>;
}

const molarMassKg: Record<string, number> = {
  Ar: 0.039948,
  CO2: 0.0440098,
  He: 0.0040026,
  N2: 0.0280135,
  O2: 0.0319988,
  H2: 0.0020159,
};

/** Temperature (K) and pressure (Pa) of a scale's reference conditions. */
const referenceState: Record<string, [number, number]> = {
  us: [294.2611, 101325.35],
  trade: [288.15, 100000],
  iso: [288.15, 101325],
  normal: [273.15, 101325],
  metric20: [293.15, 101325],
};

const barPa = 1e5;
const airPa = 101325;

/** The table of this composition. Throws where there is none. */
export function plantGasOf(composition: Record<string, number | undefined>): PlantGasName {
  for (const [name, fractions] of Object.entries(plantGasComposition)) {
    const gases = new Set([...Object.keys(fractions), ...Object.keys(composition)]);
    if ([...gases].every((g) => Math.abs((fractions[g] ?? 0) - (composition[g] ?? 0)) < 0.006)) {
      return name as PlantGasName;
    }
  }
  throw new Error(
    `no simulated gas matches ${JSON.stringify(composition)}: use one of ${Object.keys(plantGasComposition).join(", ")}`,
  );
}

function meanMolarMass(composition: Record<string, number | undefined>): number {
  let sum = 0;
  for (const [gas, x] of Object.entries(composition)) sum += (molarMassKg[gas] ?? 0) * (x ?? 0);
  return sum;
}

function scaleOf(unit: "L/min" | "CFH", reference: string | undefined) {
  const [k, pa] = referenceState[reference ?? (unit === "CFH" ? "us" : "metric20")] as [
    number,
    number,
  ];
  return {
    referenceK: k,
    referencePa: pa,
    molPerLitre: pa / (gasConstant * k) / 1000,
    unitsPerLpm: unit === "CFH" ? 2.1188799727597 : 1,
  };
}

/** Flow that the description aims at, mol/s: target, else the set reading, else 10 L/min. */
function ratedFlow(station: StationDocument, gas: PlantGas): number {
  const reading = station.flowDevice?.reading;
  const unit = station.flowDevice?.readingUnit === "CFH" ? 2.1188799727597 : 1;
  const lpm =
    station.procedure?.targetLpm ?? (reading !== undefined ? reading / unit : undefined) ?? 10;
  return (lpm * gas.metric20Density) / 60000;
}

function deviceOf(
  station: StationDocument,
  gas: PlantGas,
  flow: number,
  deliveryPa: number,
  variation: PlantVariation,
): PlantDevice {
  const device = station.flowDevice;
  const wide = (4 * flow) / (deliveryPa + airPa);
  if (!device || device.kind === "metered") {
    const scale = scaleOf(device?.readingUnit ?? "L/min", device?.scaleReference);
    return {
      kind: "metered",
      needleWideOpen: wide,
      molPerUnit: scale.molPerLitre,
      unitsPerLpm: scale.unitsPerLpm,
    };
  }
  const scale = scaleOf(device.readingUnit, device.scaleReference);
  const scaleMass = meanMolarMass(device.scaleGas);
  if (device.kind === "orifice-gauge") {
    const scaleK = 273.15 + (device.scaleC ?? 21);
    const root = Math.sqrt(293.15 / scaleK);
    const factor = variation.orificeFactor ?? 1;
    const perMole = (60 / scale.molPerLitre) * scale.unitsPerLpm;
    // An ideal gas of the scale: conductance ~ C*/sqrt(M).
    if (device.orificeMm !== undefined) {
      const real = orificeConductance(gas, device.orificeMm / 1000, device.cd ?? 0.84);
      const scaleGas = plantGas(plantGasOf(device.scaleGas));
      const onScale = orificeConductance(scaleGas, device.orificeMm / 1000, device.cd ?? 0.84);
      return {
        kind: "orifice-gauge",
        orifice: real * factor,
        unitsPerPa: onScale * root * perMole,
      };
    }
    const point = device.scaleReadsAt as { bar: number; reading: number };
    const unitsPerPa = point.reading / (point.bar * barPa + airPa);
    const onScale = unitsPerPa / (perMole * root);
    const scaleGas = plantGas(plantGasOf(device.scaleGas));
    const ratio = orificeConductance(gas, 1e-3, 1) / orificeConductance(scaleGas, 1e-3, 1);
    return { kind: "orifice-gauge", orifice: onScale * ratio * factor, unitsPerPa };
  }
  const density = (mass: number) => (mass * scale.referencePa) / (gasConstant * scale.referenceK);
  return {
    kind: "variable-area",
    valve: device.valve,
    scalePa: device.scaleBar * barPa + airPa,
    scaleK: 273.15 + (device.scaleC ?? 21),
    scaleGasDensity: density(scaleMass),
    gasDensity: density(gas.molarMassKg),
    molPerScaleLitre: scale.molPerLitre,
    unitsPerLpm: scale.unitsPerLpm,
    floatFactor: variation.floatFactor ?? 1,
    needleWideOpen: wide,
  };
}

/** A plant like the one that a station's description describes. Throws where the gas has no table. */
export function plantConfigFor(
  station: StationDocument,
  variation: PlantVariation = {},
): PlantConfig {
  const cylinder = station.cylinder;
  if (!cylinder) throw new Error(`${station.station} has no cylinder of its own to simulate`);
  const name = plantGasOf(cylinder.composition);
  const gas = plantGas(name);
  const flow = ratedFlow(station, gas);
  const deliveryBar = variation.deliveryBar ?? station.regulator?.deliveryBar ?? 3.5;
  const deliveryPa = deliveryBar * barPa;
  const twoStage = station.regulator?.stages === 2;
  const volumeM3 = (cylinder.waterVolumeL / 1000) * (variation.volumeFactor ?? 1);
  const liquid = "filledKg" in cylinder && cylinder.filledKg !== undefined;
  const fillBar = liquid ? 57 : (cylinder.filledBar as number);
  const litre = gas.metric20Density / 60000;
  const fill: PlantFill = liquid
    ? {
        massKg: (variation.presentKg ??
          cylinder.presentKg ??
          (cylinder.filledKg as number)) as number,
      }
    : {
        gaugePa: (variation.presentBar ?? fillBar) * barPa,
        temperatureK: 273.15 + (variation.presentC ?? (cylinder.filledC as number)),
      };
  const regulator: PlantRegulator = {
    deliveryPa,
    ratedMolPerS: flow,
    ratedInletPa: (variation.setAtBar ?? fillBar) * barPa + airPa,
    supplyEffect: (variation.supplyEffectBarPer100 ?? (twoStage ? -0.01 : -0.5)) / 100,
    sagPa: (variation.sagBar ?? 0) * barPa,
    sagFromPa: (variation.sagFromBar ?? 50) * barPa,
    lockUpPa: (variation.lockUpBar ?? 0.45) * barPa,
    closingTail: variation.closingTail ?? 0.15,
    seatMolPerSPa: ((variation.seatLpmAt10Bar ?? 90) * litre) / (10 * barPa + airPa),
    seatLeakMolPerSPa: ((variation.seatCreepLpm ?? 0) * litre) / (100 * barPa),
    reliefPa: (station.regulator?.reliefBar ?? 12) * barPa,
    highSideM3: (station.regulator?.highSideMl ?? 20) / 1e6,
    bodyM3: (15 + (variation.headerMl ?? 0)) / 1e6,
    bodyHeatJPerK: 420,
    bodyToAirWPerK: variation.bodyToAirWPerK ?? 1.1,
    heaterW: variation.heaterW ?? (station.regulator?.heated ? 60 : 0),
    icingBelowC: variation.icingBelowC ?? -15,
    icingPerK: variation.icingPerK ?? 0.01,
    snowMol: (variation.snowGrams ?? (name === "CO2" ? 0.8 : 0)) / 1000 / gas.molarMassKg,
  };
  const device = deviceOf(station, gas, flow, deliveryPa, variation);
  const hose = station.hose ?? { lengthM: 4, boreMm: 6 };
  const backPa = (variation.torchBackBar ?? 0.3) * barPa;
  const drop: PlantDrop = {
    device,
    restrictionRatio: variation.restrictionRatio ?? criticalRatio(gas),
    hoseM3: (Math.PI / 4) * (hose.boreMm / 1000) ** 2 * hose.lengthM,
    torchMolPerSPa: torchConductance(flow, backPa),
    hoseLeakMolPerSPa: ((variation.lineLeakLpm ?? 0) * litre) / (deliveryPa + airPa),
    tap: station.lineTap ?? "regulator-outlet",
  };
  const described = (s: { rangeBar: number; accuracyPercentFs: number } | undefined) =>
    s ? pressureSensor(s.rangeBar, s.accuracyPercentFs) : null;
  const sensors: PlantSensors = {
    cylinder: described(station.sensors?.cylinder) ?? pressureSensor(250),
    line: described(station.sensors?.line) as PressureSensorConfig | null,
    wall: temperatureProbe(),
    body: temperatureProbe(0.97),
    air: null,
    arc: false,
    ...variation.sensors,
  };
  const steelPerLitre = fillBar > 220 ? 1.5 : 1.2;
  return {
    gas: name,
    startUnixS: variation.startUnixS ?? 1764057600,
    cylinder: {
      waterVolumeM3: volumeM3,
      count: cylinder.count,
      steelKg: cylinder.waterVolumeL * steelPerLitre + 2,
      thermalLag: variation.thermalLag ?? 1,
      leakMolPerSPa: ((variation.cylinderLeakLpm ?? 0) * litre) / (100 * barPa),
    },
    fill,
    regulator,
    drops: [drop],
    sensors,
    weather: { ...mildWeather, altitudeM: station.altitudeM ?? 0, ...variation.weather },
  };
}

/** Torch conductance that holds this back pressure (gauge Pa) at this flow (mol/s). */
export function torchConductance(flow: number, backPa: number): number {
  const up = airPa + backPa;
  const x = Math.max(0, (airPa / up - 0.35) / 0.65);
  return flow / (up * Math.sqrt(1 - x * x));
}
