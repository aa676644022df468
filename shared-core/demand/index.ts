import type { ProcedureDocument } from "../documents/procedure.ts";
import type { StationDocument } from "../documents/station.ts";
import type { DemandWindow } from "../estimation/estimate.ts";
import type { Composition } from "../gases/composition.ts";
import { nozzleBore, type Opinion, type Reason, settle, tableWindow } from "./flow-window.ts";
import { nozzleRemarks } from "./nozzle-remarks.ts";
import { sourceText } from "./sources.ts";
import { allowances } from "./tables.ts";
import { type GasTime, postflow, preflow } from "./times.ts";

export { toCfh, toMetric20Lpm } from "./flow-units.ts";
export { type PurgeAnswer, type PurgePlan, type PurgeRequest, purgePlan } from "./purge.ts";
export { demandSources, type SourceKey, sourceText } from "./sources.ts";
export type { GasTime, Opinion, Reason };

/** Flow window of a weld with everything that set it. Flows are true flows, `metric20` L/min. */
export interface Demand {
  window: DemandWindow;
  /** Each source before allowances; they may disagree. */
  opinions: Opinion[];
  /** Lowest and highest of the tables and rules; null where none applies. */
  spread: { lowLpm: number; highLpm: number; sources: string[] } | null;
  /** In order of application. */
  reasons: Reason[];
  remarks: string[];
  preflow: GasTime;
  postflow: GasTime;
  /** At the target flow; null where bore or target is not known. A remark, never an alarm. */
  nozzle: { boreMm: number; reynolds: number; exitVelocityMs: number } | null;
}

/**
 * How much gas a weld needs: minimum, target and maximum true flow, with reasons and sources,
 * pre-flow and post-flow. The procedure's own flows override the tables. Never throws; what cannot
 * be known is null and `window.why` says what is missing.
 *
 * @param composition mole fractions of the shielding gas
 */
export function demand(procedure: ProcedureDocument, composition: Composition): Demand {
  const window = tableWindow(procedure, composition);
  ownFigures(window, procedure);
  const voices = window.opinions.filter((opinion) => opinion.weight !== "study");
  const boreMm = nozzleBore(procedure);
  const remarks = [...window.remarks, ...gasRemarks(procedure, composition)];
  let nozzle: Demand["nozzle"] = null;
  if (boreMm !== null && window.targetLpm !== null) {
    const found = nozzleRemarks({
      lpm: window.targetLpm,
      boreMm,
      composition,
      gasLens: procedure.gasLens === true,
      standoffMm: procedure.standoffMm,
      process: procedure.process,
    });
    if (found !== null) {
      remarks.push(...found.remarks);
      nozzle = {
        boreMm,
        reynolds: found.reynolds,
        exitVelocityMs: found.exitVelocityMs,
      };
    }
  }
  return {
    window: {
      minimumLpm: window.minimumLpm,
      targetLpm: window.targetLpm,
      maximumLpm: window.maximumLpm,
      ...(window.why.length > 0 ? { why: window.why.join("; ") } : {}),
    },
    opinions: window.opinions,
    spread:
      voices.length === 0
        ? null
        : {
            lowLpm: Math.min(...voices.map((opinion) => opinion.lowLpm)),
            highLpm: Math.max(...voices.map((opinion) => opinion.highLpm)),
            sources: voices.map((opinion) => `${opinion.about} (${sourceText(opinion.source)})`),
          },
    reasons: window.reasons,
    remarks,
    preflow: preflow(procedure),
    postflow: postflow(procedure),
    nozzle,
  };
}

/**
 * Flow window of a station, from its procedure and its cylinder's gas. All null, with `why`, where
 * the station has no procedure or its gas is not known.
 *
 * @param composition gas of the supply, for a station that has no cylinder of its own
 */
export function demandWindow(station: StationDocument, composition?: Composition): DemandWindow {
  const gas = composition ?? station.cylinder?.composition;
  const procedure = station.procedure;
  const unknown = { minimumLpm: null, targetLpm: null, maximumLpm: null };
  if (!procedure) return { ...unknown, why: "the station has no welding procedure" };
  if (!gas) {
    const { minimumLpm, targetLpm, maximumLpm } = procedure;
    if (minimumLpm && targetLpm && maximumLpm) return { minimumLpm, targetLpm, maximumLpm };
    return { ...unknown, why: "the gas of the station's supply is not known" };
  }
  return demand(procedure, gas).window;
}

/** The procedure's own figures override; a table's limit that contradicts them is set aside. */
function ownFigures(window: ReturnType<typeof tableWindow>, procedure: ProcedureDocument): void {
  const own = {
    low: procedure.minimumLpm ?? null,
    target: procedure.targetLpm ?? null,
    high: procedure.maximumLpm ?? null,
  };
  if (own.low === null && own.target === null && own.high === null) return;
  const [belowFactor, , aboveFactor] = allowances.aroundTarget.factors;
  const around = allowances.aroundTarget.source;
  window.why = [];
  const table = { low: window.minimumLpm, high: window.maximumLpm };
  const anchor = own.target ?? own.low ?? own.high!;
  window.minimumLpm = own.low ?? table.low;
  window.maximumLpm = own.high ?? table.high;
  if (own.low === null && (window.minimumLpm === null || window.minimumLpm > anchor)) {
    window.minimumLpm = own.target === null ? null : anchor * belowFactor;
    setAside("minimum", own.target, belowFactor);
  }
  if (own.high === null && (window.maximumLpm === null || window.maximumLpm < anchor)) {
    window.maximumLpm = own.target === null ? null : anchor * aboveFactor;
    setAside("maximum", own.target, aboveFactor);
  }
  window.targetLpm = own.target ?? middle(window.targetLpm, window.minimumLpm, window.maximumLpm);
  window.reasons.push({
    text: "the procedure's own figures override the tables",
    source: "procedure",
  });
  settle(window, procedure, own.target);

  function setAside(which: string, target: number | null, factor: number): void {
    if (target === null) {
      window.why.push(
        `the procedure gives no target, and the tables no ${which} that agrees with it: state the ${which} in the procedure`,
      );
      return;
    }
    window.reasons.push({
      text: `${which}: ${factor} times the procedure's target, since no table's ${which} agrees with it (${sourceText(around)})`,
      source: around,
    });
  }
}

function middle(target: number | null, low: number | null, high: number | null): number | null {
  if (target !== null && (low === null || target >= low) && (high === null || target <= high)) {
    return target;
  }
  return low !== null && high !== null && low <= high ? (low + high) / 2 : (low ?? high);
}

function gasRemarks(procedure: ProcedureDocument, composition: Composition): string[] {
  const remarks: string[] = [];
  const active = (composition.CO2 ?? 0) + (composition.O2 ?? 0);
  if (procedure.process === "GTAW" && active > 0) {
    remarks.push(
      "This gas holds CO2 or oxygen: it burns the tungsten of GTAW. Check the cylinder's label.",
    );
  }
  if (procedure.polarity !== undefined) {
    remarks.push(
      `Polarity (${procedure.polarity}) is recorded; no source was found that ties the flow to it.`,
    );
  }
  return remarks;
}
