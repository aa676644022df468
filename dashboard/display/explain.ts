import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";

/** Figures of Floor and Station that can be explained. */
export const explainedFields = [
  "flow",
  "next",
  "demand",
  "indicated",
  "dial-to",
  "content",
  "usable",
  "left",
  "clock",
  "leak",
  "cylinder-pressure",
  "line-pressure",
  "temperature",
] as const;
export type ExplainedField = (typeof explainedFields)[number];

/** How a figure came about; each has its words in the language files. */
export type Method =
  | "flow-line"
  | "flow-cylinder"
  | "flow-both"
  | "flow-meter"
  | "flow-none"
  | "unknown"
  | "next"
  | "demand-table"
  | "demand-own"
  | "demand-none"
  | "indicated-tube"
  | "indicated-gauge"
  | "indicated-meter"
  | "dial-to"
  | "content"
  | "content-held"
  | "content-liquid"
  | "usable"
  | "left-now"
  | "left-target"
  | "clock"
  | "leak"
  | "measured"
  | "measured-none";

/** Readings that an explanation names. */
export type Reading =
  | "cylinder-pressure"
  | "line-pressure"
  | "cylinder-temperature"
  | "regulator-temperature"
  | "arc";

/** Standards and papers by their key in `shared-core/sources.bib`; their names are the same everywhere. */
export const explainedSources = {
  "kunz-wagner-2012": "GERG-2008, ISO 20765-2 (Kunz, Wagner 2012)",
  "span-wagner-1996": "Span, Wagner 1996",
  "iso-6358-1-2013": "ISO 6358-1:2013",
  "iso-9300-2022": "ISO 9300:2022",
  "vdi-vde-3513": "VDI/VDE 3513",
  "jcgm-100-2008": "JCGM 100:2008 (GUM)",
  "lemmon-jacobsen-2004": "Lemmon, Jacobsen 2004",
  "wilke-1950": "Wilke 1950",
} as const;
export type ExplainedSource = keyof typeof explainedSources;

export interface Explanation {
  field: ExplainedField;
  method: Method;
  readings: Reading[];
  sources: ExplainedSource[];
  /** Why it is not known, in the estimator's words. */
  why: string | null;
}

const flowMethods: Readonly<Record<string, Method>> = {
  "line-pressure": "flow-line",
  cylinder: "flow-cylinder",
  both: "flow-both",
  meter: "flow-meter",
  "no-flow": "flow-none",
};

/** How one figure of a station came about. */
export function explain(view: StationView, field: ExplainedField, liquid: boolean): Explanation {
  const estimate = view.estimate;
  const none: Explanation = { field, method: "unknown", readings: [], sources: [], why: null };
  if (!estimate) return none;
  const of = (
    method: Method,
    readings: Reading[],
    sources: ExplainedSource[],
    why: string | undefined | null = null,
  ): Explanation => ({ field, method, readings, sources, why: why ?? null });
  const hasLine = view.description.sensors?.line !== undefined;
  const both: Reading[] = hasLine
    ? ["cylinder-pressure", "line-pressure", "cylinder-temperature"]
    : ["cylinder-pressure", "cylinder-temperature"];
  switch (field) {
    case "flow":
      return of(
        estimate.flow.lpm === null
          ? "unknown"
          : (flowMethods[estimate.flow.basis ?? ""] ?? "unknown"),
        both,
        ["kunz-wagner-2012", "iso-6358-1-2013", "jcgm-100-2008"],
        estimate.flow.why,
      );
    case "next":
      return of("next", both, ["iso-6358-1-2013", "jcgm-100-2008"], estimate.expected?.why);
    case "demand":
      return demandOf(view, estimate, of);
    case "indicated":
      return indicatedOf(view, estimate, hasLine, of);
    case "dial-to":
      return of(
        "dial-to",
        hasLine ? ["line-pressure", "cylinder-pressure"] : ["cylinder-pressure"],
        ["vdi-vde-3513", "iso-9300-2022"],
        estimate.dialTo.why,
      );
    case "content":
    case "usable":
      return contentOf(field, estimate, liquid, of);
    case "left":
      return leftOf(estimate, both, of);
    case "clock":
      return of("clock", ["cylinder-pressure"], [], estimate.remaining.clockMinutes.why);
    case "leak":
      return of("leak", both, ["kunz-wagner-2012"], estimate.leak.why);
    case "cylinder-pressure":
      return of(estimate.measured?.cylinderPa == null ? "measured-none" : "measured", [field], []);
    case "line-pressure":
      return of(estimate.measured?.linePa == null ? "measured-none" : "measured", [field], []);
    case "temperature":
      return of("measured", ["cylinder-temperature", "regulator-temperature"], []);
  }
}

type Of = (
  method: Method,
  readings: Reading[],
  sources: ExplainedSource[],
  why?: string | null,
) => Explanation;

function demandOf(view: StationView, estimate: Estimate, of: Of): Explanation {
  const demand = estimate.demand;
  if (!demand || demand.targetLpm === null) return of("demand-none", [], [], demand?.why);
  const own = view.description.procedure?.targetLpm ?? view.description.procedure?.minimumLpm;
  return of(own ? "demand-own" : "demand-table", [], [], demand.why);
}

function indicatedOf(view: StationView, estimate: Estimate, hasLine: boolean, of: Of): Explanation {
  const kind = view.description.flowDevice?.kind;
  const readings: Reading[] = hasLine
    ? ["line-pressure", "regulator-temperature"]
    : ["cylinder-pressure"];
  const why = estimate.indicated.why;
  if (kind === "orifice-gauge") return of("indicated-gauge", readings, ["iso-9300-2022"], why);
  if (kind === "metered") return of("indicated-meter", readings, [], why);
  return of("indicated-tube", readings, ["vdi-vde-3513", "kunz-wagner-2012"], why);
}

function contentOf(
  field: "content" | "usable",
  estimate: Estimate,
  liquid: boolean,
  of: Of,
): Explanation {
  const readings: Reading[] = ["cylinder-pressure", "cylinder-temperature"];
  if (liquid) {
    return of("content-liquid", readings, ["span-wagner-1996"], estimate.content.why);
  }
  if (field === "usable") return of("usable", readings, ["kunz-wagner-2012"], estimate.content.why);
  const held = estimate.content.ageS !== undefined;
  return of(
    held ? "content-held" : "content",
    readings,
    ["kunz-wagner-2012"],
    estimate.content.why,
  );
}

function leftOf(estimate: Estimate, readings: Reading[], of: Of): Explanation {
  const { gasOnMinutes, atTargetMinutes } = estimate.remaining;
  const target =
    atTargetMinutes.median !== null &&
    (gasOnMinutes.median === null || atTargetMinutes.median < gasOnMinutes.median);
  const chosen = target ? atTargetMinutes : gasOnMinutes;
  return of(target ? "left-target" : "left-now", readings, ["kunz-wagner-2012"], chosen.why);
}

/** What a tile shows, in the order in which it is read. */
export function fieldsOfTile(estimate: Estimate | null): ExplainedField[] {
  const idle = estimate?.mode === "idle" || estimate?.mode === "valve-closed";
  return [idle ? "next" : "flow", "demand", "indicated", "dial-to", "left", "cylinder-pressure"];
}
