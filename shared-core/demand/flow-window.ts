import type { ProcedureDocument } from "../documents/procedure.ts";
import type { Composition } from "../gases/composition.ts";
import { toMetric20Lpm } from "./flow-units.ts";
import { materialFamily, weldPosition } from "./material.ts";
import { cupBoreMm } from "./nozzle-remarks.ts";
import { type SourceKey, sourceText } from "./sources.ts";
import {
  type ArcMode,
  allowances,
  draughtLimits,
  gmawByMode,
  gmawByThickness,
  gtawByCup,
  gtawByThickness,
  type PrintedFlow,
  rulesOfThumb,
  stillAirStudies,
  type ThicknessRow,
} from "./tables.ts";

/** What one source says, `metric20` L/min, before allowances. */
export interface Opinion {
  lowLpm: number;
  highLpm: number;
  source: SourceKey;
  /** What it is about, such as `cup 7` or `aluminium up to 3.2 mm`. */
  about: string;
  /** `table` sets the window, `rule` fills in for a missing table, `study` is shown only. */
  weight: "table" | "rule" | "study";
}

/** Why the window is where it is. */
export interface Reason {
  text: string;
  source: SourceKey;
}

export interface TableWindow {
  minimumLpm: number | null;
  targetLpm: number | null;
  maximumLpm: number | null;
  opinions: Opinion[];
  reasons: Reason[];
  remarks: string[];
  /** What is missing or in the way; empty where the window stands. */
  why: string[];
}

/** Bore of the cup or nozzle, mm; null where the procedure does not tell. */
export function nozzleBore(procedure: ProcedureDocument): number | null {
  if (procedure.process === "GTAW" && procedure.cup !== undefined) return cupBoreMm(procedure.cup);
  return procedure.nozzleBoreMm ?? null;
}

/** True where the torch is stated to be water-cooled (`torchCooling: "water"`). */
export function isWaterCooled(procedure: ProcedureDocument): boolean {
  return procedure.torchCooling === "water";
}

/** Flow window from the tables alone, without the procedure's own figures. */
export function tableWindow(procedure: ProcedureDocument, composition: Composition): TableWindow {
  const opinions =
    procedure.process === "GTAW"
      ? gtawOpinions(procedure)
      : gmawOpinions(procedure, composition.He ?? 0);
  const window: TableWindow = {
    minimumLpm: null,
    targetLpm: null,
    maximumLpm: null,
    opinions: [...opinions, ...studies(procedure, composition)],
    reasons: [],
    remarks: [],
    why: [],
  };
  const tables = opinions.filter((opinion) => opinion.weight === "table");
  if (tables.length === 0) {
    noTable(window, procedure, opinions);
    return window;
  }
  const low = Math.min(...tables.map((opinion) => opinion.lowLpm));
  const high = Math.max(...tables.map((opinion) => opinion.highLpm));
  const centres = opinions.map((opinion) => (opinion.lowLpm + opinion.highLpm) / 2);
  const moved: Triple = [low, Math.min(Math.max(median(centres), low), high), high];
  for (const opinion of tables) {
    window.reasons.push({
      text: `${opinion.about}: ${range(opinion.lowLpm, opinion.highLpm)} (${sourceText(opinion.source)})`,
      source: opinion.source,
    });
  }
  const allowed = applyAllowances(moved, procedure, composition, window);
  [window.minimumLpm, window.targetLpm, window.maximumLpm] = allowed;
  settle(window, procedure);
  return window;
}

type Triple = [minimum: number, target: number, maximum: number];

function noTable(window: TableWindow, procedure: ProcedureDocument, opinions: Opinion[]): void {
  const rule = opinions[0];
  const missing =
    procedure.process === "GTAW"
      ? "the cup number, or material and thickness"
      : "transfer (short-circuit, spray, pulsed), or material and thickness";
  window.why.push(`the tables need ${missing} in the procedure`);
  if (rule) {
    window.targetLpm = (rule.lowLpm + rule.highLpm) / 2;
    window.reasons.push({
      text: `${rule.about}: about ${window.targetLpm.toFixed(1)} L/min, a rule of thumb (${sourceText(rule.source)}); no minimum or maximum follows from it`,
      source: rule.source,
    });
  }
}

function gtawOpinions(procedure: ProcedureDocument): Opinion[] {
  const opinions: Opinion[] = [];
  const cup = procedure.cup;
  if (cup !== undefined) {
    const row = gtawByCup.find((one) => cup >= one.cupFrom && cup <= one.cupTo);
    if (row) {
      opinions.push(opinion(row, `cup ${cup}`, "table"));
    } else {
      const between = betweenCups(cup);
      if (between) opinions.push(opinion(between, `cup ${cup}, between two rows`, "table"));
    }
    const rule = rulesOfThumb.cup;
    opinions.push(ruleOpinion(rule, cup, `${rule.perUnit} CFH for each cup number`));
  }
  return [...opinions, ...thicknessOpinions(gtawByThickness, procedure, 0)];
}

/** A cup between two rows of the table takes the figures in proportion; outside it has none. */
function betweenCups(cup: number): PrintedFlow | null {
  const above = gtawByCup.findIndex((row) => row.cupFrom > cup);
  if (above < 1) return null;
  const [a, b] = [gtawByCup[above - 1]!, gtawByCup[above]!];
  const share = (cup - a.cupTo) / (b.cupFrom - a.cupTo);
  return {
    low: a.low + share * (b.low - a.low),
    high: a.high + share * (b.high - a.high),
    unit: a.unit,
    source: a.source,
  };
}

function gmawOpinions(procedure: ProcedureDocument, helium: number): Opinion[] {
  const opinions: Opinion[] = [];
  const mode: ArcMode | undefined = procedure.process === "FCAW-G" ? "FCAW-G" : procedure.transfer;
  const row = gmawByMode.find((one) => one.mode === mode);
  if (row) opinions.push(opinion(row, `${procedure.process} ${mode}`, "table"));
  opinions.push(...thicknessOpinions(gmawByThickness, procedure, helium));
  if (procedure.nozzleBoreMm !== undefined) {
    opinions.push(
      ruleOpinion(rulesOfThumb.boreMm, procedure.nozzleBoreMm, "1 L/min for each mm of bore"),
    );
  }
  if (procedure.wireMm !== undefined && mode === "short-circuit") {
    opinions.push(
      ruleOpinion(rulesOfThumb.wireMm, procedure.wireMm, "10 L/min for each mm of wire"),
    );
  }
  return opinions;
}

function thicknessOpinions(
  table: readonly ThicknessRow[],
  procedure: ProcedureDocument,
  helium: number,
): Opinion[] {
  const family = materialFamily(procedure.material);
  const thickness = procedure.thicknessMm;
  if (family === null || thickness === undefined) return [];
  // A row printed for a helium mix must not be scaled for helium again, nor used for argon.
  const rows = table.filter(
    (row) => row.material === family && (row.heliumFraction === undefined || helium >= 0.5),
  );
  const row = rows.find((one) => thickness <= one.toMm * 1.01);
  if (!row) return [];
  const already = row.heliumFraction ? heliumFactors(row.heliumFraction)[1] : 1;
  return [
    opinion(
      { ...row, low: row.low / already, high: row.high / already },
      `${family} up to ${row.toMm.toFixed(1)} mm`,
      "table",
    ),
  ];
}

function studies(procedure: ProcedureDocument, composition: Composition): Opinion[] {
  if (procedure.process === "GTAW") return [];
  const pure = composition.Ar === 1 && procedure.process === "GMAW";
  const lowest = pure ? stillAirStudies.pureArgonGmaw : stillAirStudies.mixedGasGmaw;
  return [
    opinion(lowest, "found sound in still air", "study"),
    opinion(stillAirStudies.productionGmaw, "production cut to this without loss", "study"),
  ];
}

function opinion(row: PrintedFlow, about: string, weight: Opinion["weight"]): Opinion {
  return {
    lowLpm: toMetric20Lpm(row.low, row.unit),
    highLpm: toMetric20Lpm(row.high, row.unit),
    source: row.source,
    about,
    weight,
  };
}

function ruleOpinion(
  rule: { perUnit: number; unit: PrintedFlow["unit"]; source: SourceKey },
  quantity: number,
  about: string,
): Opinion {
  const flow = rule.perUnit * quantity;
  return opinion({ low: flow, high: flow, unit: rule.unit, source: rule.source }, about, "rule");
}

/** Factors for [minimum, target, maximum] of a gas with this helium fraction. */
function heliumFactors(fraction: number): Triple {
  return allowances.helium.factors.map((pure) => 1 + fraction * (pure - 1)) as Triple;
}

function applyAllowances(
  start: Triple,
  procedure: ProcedureDocument,
  composition: Composition,
  window: TableWindow,
): Triple {
  let flows = start;
  const give = (next: Triple, text: string, source: SourceKey) => {
    flows = next;
    window.reasons.push({ text: `${text} (${sourceText(source)})`, source });
  };
  const helium = composition.He ?? 0;
  if (helium > 0) {
    const by = heliumFactors(helium);
    give(
      times(flows, by),
      `${(helium * 100).toFixed(0)} % helium: ${by[0].toFixed(2)} to ${by[2].toFixed(2)} times the argon flow`,
      allowances.helium.source,
    );
  }
  if (procedure.process === "GTAW") {
    if (procedure.gasLens) {
      const { factors, source } = allowances.gasLens;
      give(times(flows, factors), "gas lens: 10 to 20 % less at the same cup", source);
    }
    flows = coolTorch(flows, procedure, window);
  } else {
    if (isPulsedAluminium(procedure)) {
      const { low, unit, source } = allowances.pulsedAluminiumLeast;
      const least = toMetric20Lpm(low, unit);
      give(
        [Math.max(flows[0], least), Math.max(flows[1], least), Math.max(flows[2], least)],
        `pulsed GMAW on aluminium wants at least ${low} ${unit}`,
        source,
      );
    }
    outOfPosition(procedure, window, (low, high, text, source) =>
      give([flows[0] + low, flows[1] + (low + high) / 2, flows[2] + high], text, source),
    );
  }
  if (/edge|outside[- ]corner/i.test(procedure.joint ?? "")) {
    const { share, source } = allowances.openJoint;
    give(
      [flows[0], flows[1] + share * Math.max(0, flows[2] - flows[1]), flows[2]],
      `${procedure.joint}: gas falls away from an open joint, so the target moves up`,
      source,
    );
  }
  return draughtAllowance(flows, procedure, give);
}

function isPulsedAluminium(procedure: ProcedureDocument): boolean {
  return (
    procedure.process === "GMAW" &&
    procedure.transfer === "pulsed" &&
    materialFamily(procedure.material) === "aluminium"
  );
}

function outOfPosition(
  procedure: ProcedureDocument,
  window: TableWindow,
  add: (low: number, high: number, text: string, source: SourceKey) => void,
): void {
  if (procedure.position === undefined) return;
  const position = weldPosition(procedure.position);
  if (position === null) {
    window.remarks.push(
      `The position "${procedure.position}" is not known (use names such as PA, PF, 1G, 3G, vertical): no allowance made.`,
    );
  }
  if (position !== "out-of-position") return;
  const { low, high, unit, source } = allowances.outOfPosition;
  add(
    toMetric20Lpm(low, unit),
    toMetric20Lpm(high, unit),
    `out of position (${procedure.position}): ${low} to ${high} ${unit} more`,
    source,
  );
}

function coolTorch(flows: Triple, procedure: ProcedureDocument, window: TableWindow): Triple {
  const amps = procedure.amps;
  const above = allowances.torchCooling.aboveAmps;
  const rated = procedure.torchRatedAmps;
  if (amps !== undefined && typeof rated === "number" && amps > rated) {
    window.remarks.push(
      `${amps} A is above the torch's rated ${rated} A: use a water-cooled or larger torch. More gas never replaces the rated current and duty.`,
    );
  }
  if (amps === undefined || amps <= above || isWaterCooled(procedure)) return flows;
  const { perAmp, source } = allowances.torchCoolingStep;
  const target = Math.min(flows[1] * (1 + perAmp * (amps - above)), Math.max(flows[1], flows[2]));
  window.reasons.push({
    text: `${amps} A: a gas-cooled torch lives longer with more flow above ${above} A (${sourceText(allowances.torchCooling.source)}); how much more: ${sourceText(source)}`,
    source,
  });
  window.remarks.push(
    "Above the torch's rated current or duty more gas is no answer: use water cooling.",
  );
  return [flows[0], target, flows[2]];
}

function draughtAllowance(
  flows: Triple,
  procedure: ProcedureDocument,
  give: (next: Triple, text: string, source: SourceKey) => void,
): Triple {
  const draught = procedure.draughtMs;
  const { calmMs, most, source } = allowances.draught;
  const limit = draughtLimit(procedure).mostMs;
  // Above the limit a screen is the answer; the figures then hold behind it.
  if (draught === undefined || draught <= calmMs || draught > limit) return flows;
  const rise = 1 + (most * (draught - calmMs)) / (limit - calmMs);
  const next: Triple = [flows[0] * rise, Math.max(flows[1], flows[0] * rise), flows[2]];
  give(next, `draught ${draught} m/s: minimum ${((rise - 1) * 100).toFixed(0)} % higher`, source);
  return next;
}

/** Draught above which only a screen helps. */
export function draughtLimit(procedure: ProcedureDocument): { mostMs: number; source: SourceKey } {
  return procedure.process === "GTAW" ? draughtLimits.GTAW : draughtLimits.GMAW;
}

/**
 * Last word: a draught that needs a screen, or a minimum above the maximum, leaves no target but
 * the procedure's own.
 */
export function settle(
  window: TableWindow,
  procedure: ProcedureDocument,
  ownTarget: number | null = null,
): void {
  const { minimumLpm: low, maximumLpm: high } = window;
  const limit = draughtLimit(procedure);
  if (procedure.draughtMs !== undefined && procedure.draughtMs > limit.mostMs) {
    window.targetLpm = ownTarget;
    window.why.push(
      `a draught of ${procedure.draughtMs} m/s is above ${limit.mostMs} m/s: put up a screen, more gas does not help (${sourceText(limit.source)}); minimum and maximum hold behind the screen`,
    );
  } else if (low !== null && high !== null && low > high) {
    window.targetLpm = ownTarget;
    window.why.push(
      `no flow is right: larger cup, lens or screen (minimum ${low.toFixed(1)} is above maximum ${high.toFixed(1)} L/min)`,
    );
  } else if (window.targetLpm !== null) {
    if (high !== null) window.targetLpm = Math.min(window.targetLpm, high);
    if (low !== null) window.targetLpm = Math.max(window.targetLpm, low);
  }
}

function times(flows: Triple, factors: readonly number[]): Triple {
  return [flows[0] * factors[0]!, flows[1] * factors[1]!, flows[2] * factors[2]!];
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

function range(low: number, high: number): string {
  return low === high ? `${low.toFixed(1)} L/min` : `${low.toFixed(1)} to ${high.toFixed(1)} L/min`;
}
