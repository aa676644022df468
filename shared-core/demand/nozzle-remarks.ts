import { type Composition, type GasSymbol, gasSymbols } from "../gases/composition.ts";
import { nozzleFacts } from "./tables.ts";

/** Molar mass (g/mol) and viscosity (µPa·s at 20 °C): CoolProp 8.0, tests/reference/viscosity.csv. */
const gasAt20C: Readonly<Record<GasSymbol, readonly [molarMass: number, viscosity: number]>> = {
  Ar: [39.948, 22.3065],
  CO2: [44.0098, 14.6748],
  He: [4.0026, 19.6176],
  N2: [28.0135, 17.5729],
  O2: [31.9988, 20.2727],
  H2: [2.0159, 8.7968],
};

/** Standard molar volume at 20 °C and 101.325 kPa of an ideal gas, L/mol. */
const MOLAR_LITRES = (8.314462618 * 293.15) / 101.325;

/** Bore of a GTAW cup, mm. */
export function cupBoreMm(cup: number): number {
  return cup * nozzleFacts.cupStepMm.value;
}

/**
 * Reynolds number of a cold empty nozzle at 20 °C: Re = 4 ρ Q / (π D µ), viscosity of the mixture by
 * Wilke's rule (J. Chem. Phys. 18 (1950) 517, from memory).
 *
 * @param lpm `metric20` L/min
 */
export function coldNozzleReynolds(lpm: number, boreMm: number, composition: Composition): number {
  const massFlow = (lpm / 60 / MOLAR_LITRES) * molarMass(composition) * 1e-3;
  return (4 * massFlow) / (Math.PI * boreMm * 1e-3 * viscosityUPaS(composition) * 1e-6);
}

/** Mean velocity in a cold empty nozzle, m/s. */
export function exitVelocityMs(lpm: number, boreMm: number): number {
  return lpm / 60_000 / ((Math.PI / 4) * (boreMm * 1e-3) ** 2);
}

/** Remarks on the nozzle at this flow: words for a person, never a reason for an alarm. */
export function nozzleRemarks(input: {
  lpm: number;
  boreMm: number;
  composition: Composition;
  gasLens: boolean;
  standoffMm: number | undefined;
  process: "GTAW" | "GMAW" | "FCAW-G";
}): { reynolds: number; exitVelocityMs: number; remarks: string[] } {
  const remarks: string[] = [];
  const reynolds = coldNozzleReynolds(input.lpm, input.boreMm, input.composition);
  const velocity = exitVelocityMs(input.lpm, input.boreMm);
  if (reynolds > nozzleFacts.laminarReynolds.value && !input.gasLens) {
    remarks.push(
      `Reynolds number ${Math.round(reynolds)} in the ${input.boreMm.toFixed(1)} mm bore is above the pipe limit of ${nozzleFacts.laminarReynolds.value}: the stream may turn turbulent sooner. A remark, not a limit: a short nozzle differs from a long pipe.`,
    );
  }
  if (input.process === "GTAW" && input.standoffMm !== undefined) {
    const core =
      nozzleFacts.bareCupCoreMm.value * (input.gasLens ? nozzleFacts.lensReach.value : 1);
    if (input.standoffMm > core) {
      remarks.push(
        `A standoff of ${input.standoffMm} mm reaches past the calm core of about ${core.toFixed(1)} mm${input.gasLens ? " of a gas lens" : " of a bare cup"}: hold the cup nearer${input.gasLens ? "." : " or fit a gas lens."}`,
      );
    }
  }
  return { reynolds, exitVelocityMs: velocity, remarks };
}

function molarMass(composition: Composition): number {
  return gasSymbols.reduce((sum, gas) => sum + (composition[gas] ?? 0) * gasAt20C[gas][0], 0);
}

function viscosityUPaS(composition: Composition): number {
  const present = gasSymbols.filter((gas) => (composition[gas] ?? 0) > 0);
  let mixture = 0;
  for (const i of present) {
    const [massI, muI] = gasAt20C[i];
    let weight = 0;
    for (const j of present) {
      const [massJ, muJ] = gasAt20C[j];
      const root = 1 + Math.sqrt(muI / muJ) * (massJ / massI) ** 0.25;
      weight += ((composition[j] ?? 0) * root ** 2) / Math.sqrt(8 * (1 + massI / massJ));
    }
    mixture += ((composition[i] ?? 0) * muI) / weight;
  }
  return mixture;
}
