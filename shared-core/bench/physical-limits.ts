import type { StationDocument } from "../documents/station.ts";
import { molarFlowMolPerS } from "../flow/restriction.ts";
import { ATMOSPHERE_PA, BAR_PA } from "../units/factors.ts";
import type { BenchDevice } from "./device-model.ts";
import { ROOM_K } from "./fit-readings.ts";
import type { BenchReading } from "./readings.ts";

/** Share by which a row may pass a limit before it counts as impossible: meter and gauges err. */
const ALLOWANCE = 1.1;

/**
 * Why a row cannot be, whatever the device: null where nothing speaks against it.
 *
 * A tube that passes more than it shows must stand at a higher pressure than its scale; that
 * pressure cannot exceed the cylinder's, nor the relief device's. An orifice gauge cannot pass
 * more than its hole passes at that pressure.
 */
export function impossibleBecause(
  device: BenchDevice,
  station: StationDocument,
  reading: BenchReading,
): string | null {
  const { trueM3PerS, indicatedM3PerS } = reading;
  if (trueM3PerS === null) return null;
  const relief = station.regulator?.reliefBar ?? station.regulator?.maxLineBar;
  const reliefPa = relief === undefined ? Number.POSITIVE_INFINITY : relief * BAR_PA;
  const highestPa = Math.min(reading.cylinderPa, reliefPa) + ATMOSPHERE_PA;
  const molPerS = trueM3PerS * device.standardMolPerM3;
  if (device.tube && indicatedM3PerS !== null) {
    const scaleMol =
      indicatedM3PerS * device.standardMolPerM3 * molarMassRatio(device.tube.mixture, device);
    const neededPa = device.tube.pressurePa * (molPerS / scaleMol) ** 2;
    if (neededPa > highestPa * ALLOWANCE ** 2) {
      return `true flow above the physical limit: the tube would have to stand at ${bar(neededPa)} bar, more than ${limitName(reading, reliefPa)} (${bar(highestPa)} bar absolute). Check the unit and the columns.`;
    }
  }
  if (device.dialConductance !== null) {
    const mostPa = reading.linePa === null ? highestPa : reading.linePa + ATMOSPHERE_PA;
    const most = molarFlowMolPerS(
      {
        law: "iso-6358",
        criticalRatio: 0.5,
        sonicConductanceM3PerSPa: device.dialConductance / 0.84,
      },
      mostPa,
      0,
      reading.ambientK ?? ROOM_K,
    );
    if (molPerS > most * ALLOWANCE) {
      const lpm = (most / device.standardMolPerM3) * 60_000;
      return `true flow above the physical limit: this orifice passes at most ${lpm.toFixed(1)} L/min at ${bar(mostPa)} bar absolute. Check the unit and the columns.`;
    }
  }
  return null;
}

/** √ of the molar masses: the gas factor of a tube. */
function molarMassRatio(scaleGas: { molarMassKgPerMol: number }, device: BenchDevice): number {
  return Math.sqrt(scaleGas.molarMassKgPerMol / device.mixture.molarMassKgPerMol);
}

function limitName(reading: BenchReading, reliefPa: number): string {
  return reading.cylinderPa <= reliefPa ? "the cylinder's pressure" : "the relief device allows";
}

function bar(pressurePa: number): string {
  return (pressurePa / BAR_PA).toFixed(1);
}
