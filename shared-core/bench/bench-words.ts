import type { FlowDeviceDocument } from "../documents/hardware.ts";
import { BAR_PA, PSI_PA } from "../units/factors.ts";
import { readingPerM3PerS } from "./device-model.ts";

/** Writes quantities as the person at this device reads them: CFH with psi, L/min with bar. */
export interface BenchWords {
  flowUnit: "CFH" | "L/min";
  pressureUnit: "psi" | "bar";
  /** A flow in the unit and reference printed on the device. */
  reading(m3PerS: number): number;
  flow(m3PerS: number): string;
  /** A gauge pressure. */
  pressure(pressurePa: number): string;
}

export function benchWords(device: FlowDeviceDocument): BenchWords {
  const perM3PerS = readingPerM3PerS(device);
  const psi = device.readingUnit === "CFH";
  return {
    flowUnit: device.readingUnit,
    pressureUnit: psi ? "psi" : "bar",
    reading: (m3PerS) => m3PerS * perM3PerS,
    flow: (m3PerS) => `${short(m3PerS * perM3PerS)} ${device.readingUnit}`,
    pressure: (pressurePa) =>
      psi ? `${short(pressurePa / PSI_PA)} psi` : `${short(pressurePa / BAR_PA)} bar`,
  };
}

/** Three digits, without an exponent: 2200, 40.5, 8.03. */
export function short(value: number): string {
  const size = Math.abs(value);
  const decimals = size >= 100 ? 0 : size >= 10 ? 1 : 2;
  return Number(value.toFixed(decimals)).toString();
}

/** Signed percent: `+1.2 %`. */
export function percent(part: number): string {
  const text = (part * 100).toFixed(1);
  return `${part > 0 ? "+" : ""}${text} %`;
}
