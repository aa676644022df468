/**
 * Where the numbers of the demand tables come from. Every row names one of these keys.
 *
 * `seen`: read in the published source itself. `computed`: from an exact definition.
 * `from-memory`: the named document was not at hand. `common-practice`: what the trade does; there
 * is no published source. `own-estimate`: chosen here, so that a rule without a published number
 * can be applied at all; treat it as the weakest kind. `procedure`: the user's own figure.
 */
export type SourceKind =
  | "seen"
  | "computed"
  | "from-memory"
  | "common-practice"
  | "own-estimate"
  | "procedure";

export interface DemandSource {
  kind: SourceKind;
  text: string;
}

export const demandSources = {
  "modern-welding-2020": {
    kind: "seen",
    text: "Modern Welding, Goodheart-Willcox 2020, fig. 8-35",
  },
  "supplier-handbook": {
    kind: "seen",
    text: "a gas supplier's welder handbook, GTAW fillet table by thickness",
  },
  "beyer-2013": {
    kind: "seen",
    text: "Beyer et al., Science and Technology of Welding and Joining, 2013",
  },
  "bitharas-2018": {
    kind: "seen",
    text: "Bitharas et al., Journal of Materials Processing Technology 255 (2018) 451-462",
  },
  "aws-d1.1-draught": {
    kind: "seen",
    text: "AWS D1.1, draught limit of 5 mph (clause quoted on a welding site; check the edition)",
  },
  "aws-d1.1-essential-flow": {
    kind: "from-memory",
    text: "AWS D1.1, flow as an essential variable: +50 % / -20 % (from memory; check the edition)",
  },
  "well-mixed": {
    kind: "computed",
    text: "well-mixed dilution: volumes = ln(oxygen at start / oxygen wanted)",
  },
  "api-rp-582": {
    kind: "from-memory",
    text: "API RP 582, limit of 0.5 % oxygen in the purge (second-hand; check the document)",
  },
  "cup-numbers": {
    kind: "from-memory",
    text: "trade standard: GTAW cup number = bore in sixteenths of an inch (from memory)",
  },
  "helium-memory": {
    kind: "from-memory",
    text: "handbook rule: helium needs 2 to 3 times the flow of argon (from memory)",
  },
  "titanium-memory": {
    kind: "from-memory",
    text: "handbook rule: shield titanium until it is below about 425 °C (from memory)",
  },
  "round-pipe": {
    kind: "from-memory",
    text: "textbook limit of laminar flow in a pipe, Re 2300; a short nozzle differs (from memory)",
  },
  "common-practice": { kind: "common-practice", text: "common practice, no source" },
  procedure: { kind: "procedure", text: "the welding procedure itself" },
  "own-estimate": { kind: "own-estimate", text: "own estimate, no source" },
} as const satisfies Record<string, DemandSource>;

export type SourceKey = keyof typeof demandSources;

/** The source in words, for a reason shown to a person. */
export function sourceText(key: SourceKey): string {
  return demandSources[key].text;
}
