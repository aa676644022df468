import type { ReadingUnit, ReferenceName } from "../documents/common.ts";
import type { FlowDeviceDocument } from "../documents/hardware.ts";
import { ATMOSPHERE_PA, CFH_M3_PER_S, LITRE_PER_MINUTE_M3_PER_S } from "../units/factors.ts";
import { standardDensityMolPerM3 } from "../units/reference-conditions.ts";
import { GasModel, ZERO_C } from "./gas-model.ts";

/**
 * A flow device's scale: true molar flow from its reading and back.
 * Pressures are absolute in the tube (or at the dial's gauge), in Pa.
 */
export interface DevicePlan {
  document: FlowDeviceDocument | null;
  unit: ReadingUnit | null;
  scaleMin: number | null;
  scaleMax: number | null;
  /** Scale reading for a molar flow (mol/s) at a tube pressure and temperature; null without scale. */
  indicated(molPerS: number, pressurePa: number, temperatureK: number): number | null;
  /** True molar flow for a scale reading; null without scale. */
  trueFlow(reading: number, pressurePa: number, temperatureK: number): number | null;
  /** Pressure (absolute) at which a dial shows a reading, for orifice gauges; else null. */
  dialPressurePa(reading: number): number | null;
}

const none = (): null => null;

export function planDevice(
  document: FlowDeviceDocument | null,
  gas: GasModel,
  atmospherePa: number,
): DevicePlan {
  const shared = {
    document,
    unit: document?.readingUnit ?? null,
    scaleMin: document?.scaleMin ?? null,
    scaleMax: document?.scaleMax ?? null,
  };
  if (document === null) {
    return { ...shared, indicated: none, trueFlow: none, dialPressurePa: none };
  }
  const reference: ReferenceName =
    document.scaleReference ?? (document.readingUnit === "CFH" ? "us" : "metric20");
  const m3PerS = document.readingUnit === "CFH" ? CFH_M3_PER_S : LITRE_PER_MINUTE_M3_PER_S;
  if (document.kind === "metered") {
    // Reads the true flow of the gas it is set for, in its own standard litres.
    const perReading = m3PerS * standardDensityMolPerM3(gas.mixture, reference);
    return {
      ...shared,
      indicated: (molPerS) => molPerS / perReading,
      trueFlow: (reading) => reading * perReading,
      dialPressurePa: none,
    };
  }
  const scaleGas = new GasModel(document.scaleGas);
  const massPerReading =
    m3PerS *
    standardDensityMolPerM3(scaleGas.mixture, reference) *
    scaleGas.mixture.molarMassKgPerMol;
  const molar = gas.mixture.molarMassKgPerMol;
  if (document.kind === "variable-area") {
    const scaleK = (document.scaleC ?? 21) + ZERO_C;
    const scaleDensity = massDensity(scaleGas, document.scaleBar * 1e5 + ATMOSPHERE_PA, scaleK);
    // Same float position: mass flow goes with the square root of the density in the tube.
    const factor = (pressurePa: number, temperatureK: number): number =>
      Math.sqrt(massDensity(gas, pressurePa, temperatureK) / scaleDensity);
    return {
      ...shared,
      indicated: (molPerS, pressurePa, temperatureK) =>
        (molPerS * molar) / (massPerReading * factor(pressurePa, temperatureK)),
      trueFlow: (reading, pressurePa, temperatureK) =>
        (reading * massPerReading * factor(pressurePa, temperatureK)) / molar,
      dialPressurePa: none,
    };
  }
  // Orifice gauge: the dial is the choked flow of the scale's gas, linear in absolute pressure.
  const perPa = dialPerPa(document, scaleGas, massPerReading);
  // Choked flow of another gas through the same hole: critical flow functions and molar masses.
  const ratio =
    (criticalFunction(gas) / criticalFunction(scaleGas)) *
    Math.sqrt(molar / scaleGas.mixture.molarMassKgPerMol);
  return {
    ...shared,
    indicated: (_molPerS, pressurePa) => perPa * (pressurePa - atmospherePa + ATMOSPHERE_PA),
    trueFlow: (reading) => (reading * massPerReading * ratio) / molar,
    dialPressurePa: (reading) => reading / perPa - ATMOSPHERE_PA + atmospherePa,
  };
}

function massDensity(gas: GasModel, pressurePa: number, temperatureK: number): number {
  const density = gas.densityAt(Math.max(pressurePa, 1000), temperatureK);
  const known = Number.isFinite(density) ? density : pressurePa / (8.3145 * temperatureK);
  return known * gas.mixture.molarMassKgPerMol;
}

/** Reading of an orifice gauge's dial per absolute Pa. */
function dialPerPa(
  document: Extract<FlowDeviceDocument, { kind: "orifice-gauge" }>,
  scaleGas: GasModel,
  massPerReading: number,
): number {
  if (document.scaleReadsAt !== undefined) {
    return document.scaleReadsAt.reading / (document.scaleReadsAt.bar * 1e5 + ATMOSPHERE_PA);
  }
  const area = (Math.PI / 4) * ((document.orificeMm ?? 0.5) / 1000) ** 2;
  const temperatureK = (document.scaleC ?? 21) + ZERO_C;
  const specific = 8.314462618 / scaleGas.mixture.molarMassKgPerMol;
  const massPerPa =
    ((document.cd ?? 0.84) * area * criticalFunction(scaleGas)) /
    Math.sqrt(specific * temperatureK);
  return massPerPa / massPerReading;
}

/** C* = sqrt(g) (2/(g+1))^((g+1)/(2(g-1))) with the heat capacities of the thin gas at 20 °C. */
function criticalFunction(gas: GasModel): number {
  const density = gas.standardMolPerM3;
  const g = gas.mixture.cpJPerMolK(density, 293.15) / gas.mixture.cvJPerMolK(density, 293.15);
  return Math.sqrt(g) * (2 / (g + 1)) ** ((g + 1) / (2 * (g - 1)));
}

/** What flow to expect before anything is measured, mol/s, with the 1 sigma of its logarithm. */
export function flowPrior(
  device: DevicePlan,
  gas: GasModel,
  deliveryPa: number | null,
  atmospherePa: number,
  targetLpm: number | null,
): { molPerS: number; sigma: number } {
  const { document } = device;
  const pressurePa = atmospherePa + (deliveryPa ?? 300_000);
  if (document !== null && document.reading !== undefined && document.reading > 0) {
    const molPerS = device.trueFlow(
      document.reading,
      tubePressure(device, pressurePa, atmospherePa),
      293.15,
    );
    if (molPerS !== null && molPerS > 0) {
      return { molPerS, sigma: document.kind === "metered" ? 0.08 : 0.2 };
    }
  }
  if (document?.kind === "orifice-gauge" && deliveryPa !== null) {
    const reading = device.indicated(0, pressurePa, 293.15);
    const molPerS = reading === null ? null : device.trueFlow(reading, pressurePa, 293.15);
    if (molPerS !== null && molPerS > 0) return { molPerS, sigma: 0.2 };
  }
  const lpm = targetLpm ?? 10;
  return { molPerS: (lpm / 60_000) * gas.standardMolPerM3, sigma: targetLpm === null ? 0.7 : 0.5 };
}

/** Absolute pressure in the device's tube when the line before it stands at `linePa` (absolute). */
export function tubePressure(device: DevicePlan, linePa: number, atmospherePa: number): number {
  const before =
    device.document?.kind === "variable-area" && device.document.valve === "before-tube";
  return before ? Math.min(linePa, atmospherePa + BACK_PRESSURE_PA) : linePa;
}

/** Hose and torch hold back a few psi at welding flow (3 to 8 psi, common practice). */
export const BACK_PRESSURE_PA = 25_000;
