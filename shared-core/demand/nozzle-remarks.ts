import type { Composition } from "../gases/composition.ts";
import { checkMixture } from "../gases/mixture.ts";
import { type NozzleExit, nozzleExit } from "../nozzle/exit-flow.ts";
import { ATMOSPHERE_PA } from "../units/factors.ts";
import { molPerSOfLitresPerMinute } from "../units/reference-conditions.ts";
import { nozzleFacts } from "./tables.ts";

/** Bore of a GTAW cup, mm. */
export function cupBoreMm(cup: number): number {
  return cup * nozzleFacts.cupStepMm.value;
}

/** Gas leaving a cold empty nozzle at 20 °C; null for a bore or gas that cannot be. */
export function coldNozzle(
  lpm: number,
  boreMm: number,
  composition: Composition,
): NozzleExit | null {
  const mixture = checkMixture(composition);
  if (!mixture.ok) return null;
  const molPerS = molPerSOfLitresPerMinute(lpm, mixture.value, "metric20");
  const exit = nozzleExit(mixture.value, molPerS, boreMm / 1000, ATMOSPHERE_PA, 293.15);
  return exit.ok ? exit.value : null;
}

/** Remarks on the nozzle at this flow: words for a person, never a reason for an alarm. */
export function nozzleRemarks(input: {
  lpm: number;
  boreMm: number;
  composition: Composition;
  gasLens: boolean;
  standoffMm: number | undefined;
  process: "GTAW" | "GMAW" | "FCAW-G";
}): { reynolds: number; exitVelocityMs: number; remarks: string[] } | null {
  const exit = coldNozzle(input.lpm, input.boreMm, input.composition);
  if (exit === null) return null;
  const remarks: string[] = [];
  const { reynolds, velocityMPerS } = exit;
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
  return { reynolds, exitVelocityMs: velocityMPerS, remarks };
}
