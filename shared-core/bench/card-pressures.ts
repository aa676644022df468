import { BAR_PA, PSI_PA } from "../units/factors.ts";

const barSteps = [300, 250, 200, 150, 100, 75, 50, 30, 20, 15];
const psiSteps = [4000, 3000, 2500, 2000, 1500, 1000, 750, 500, 300, 200];

/**
 * Cylinder pressures of a dial card, gauge Pa, from full down to residual: both ends and round
 * figures between them, in the unit that the welder's gauge shows.
 */
export function cardPressuresPa(input: {
  fullPa: number;
  residualPa: number;
  unit: "psi" | "bar";
}): number[] {
  const { fullPa, residualPa } = input;
  const steps = input.unit === "psi" ? psiSteps : barSteps;
  const factor = input.unit === "psi" ? PSI_PA : BAR_PA;
  const between = steps
    .map((step) => step * factor)
    .filter((pressure) => pressure < fullPa * 0.93 && pressure > residualPa * 1.2);
  return residualPa < fullPa ? [fullPa, ...between, residualPa] : [fullPa];
}
