import type { ProcedureDocument } from "../documents/procedure.ts";
import { isWaterCooled, type Reason } from "./flow-window.ts";
import { materialFamily } from "./material.ts";
import { sourceText } from "./sources.ts";
import { allowances, gasTimes } from "./tables.ts";

/** Seconds of gas; `targetS` null where the procedure does not say enough. */
export interface GasTime {
  lowS: number | null;
  targetS: number | null;
  highS: number | null;
  reasons: Reason[];
}

/** Gas before the arc, s: the procedure's own figure, else what is usual. */
export function preflow(procedure: ProcedureDocument): GasTime {
  if (procedure.preflowS !== undefined) return own(procedure.preflowS, "pre-flow");
  const { lowS, highS, source } = gasTimes.preflow;
  return {
    lowS,
    targetS: (lowS + highS) / 2,
    highS,
    reasons: [{ text: `pre-flow ${lowS} to ${highS} s (${sourceText(source)})`, source }],
  };
}

/** Gas after the arc, s. GTAW: 1 s for each 10 A, at least 8 s, longer on a hot gas-cooled torch. */
export function postflow(procedure: ProcedureDocument): GasTime {
  if (procedure.postflowS !== undefined) return own(procedure.postflowS, "post-flow");
  const time = procedure.process === "GTAW" ? gtawPostflow(procedure) : gmawPostflow();
  if (materialFamily(procedure.material) === "titanium") {
    const { value, source } = gasTimes.titaniumColdC;
    time.highS = null;
    time.reasons.push({
      text: `titanium: keep gas on it until it is below about ${value} °C, with a trailing shield (${sourceText(source)})`,
      source,
    });
  }
  return time;
}

function gtawPostflow(procedure: ProcedureDocument): GasTime {
  const { secondsPerAmp, leastS, source } = gasTimes.postflowGtaw;
  const rule = `1 s for each 10 A, at least ${leastS} s (${sourceText(source)})`;
  if (procedure.amps === undefined) {
    return {
      lowS: leastS,
      targetS: null,
      highS: null,
      reasons: [{ text: `post-flow ${rule}; the current is not known`, source }],
    };
  }
  const targetS = Math.max(leastS, procedure.amps * secondsPerAmp);
  const time: GasTime = {
    lowS: leastS,
    targetS,
    highS: targetS,
    reasons: [{ text: `post-flow ${rule}`, source }],
  };
  if (procedure.amps > allowances.torchCooling.aboveAmps && !isWaterCooled(procedure)) {
    const hot = gasTimes.postflowHotTorch;
    time.highS = targetS * hot.factor;
    time.reasons.push({
      text: `gas-cooled above ${allowances.torchCooling.aboveAmps} A: a longer post-flow spares torch and tungsten (${sourceText(allowances.torchCooling.source)}); how much longer: ${sourceText(hot.source)}`,
      source: hot.source,
    });
  }
  return time;
}

function gmawPostflow(): GasTime {
  const { lowS, highS, source } = gasTimes.postflowGmaw;
  return {
    lowS,
    targetS: (lowS + highS) / 2,
    highS,
    reasons: [{ text: `post-flow ${lowS} to ${highS} s (${sourceText(source)})`, source }],
  };
}

function own(seconds: number, what: string): GasTime {
  return {
    lowS: seconds,
    targetS: seconds,
    highS: seconds,
    reasons: [{ text: `${what} from the procedure`, source: "procedure" }],
  };
}
