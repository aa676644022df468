import type { LookBack } from "@leeward/shared-core/api/look-back.ts";
import { clockTime, secondsInWords } from "../display/durations.ts";
import { flowFigure } from "../display/numbers.ts";
import type { AskedFigure, PageFigure } from "../display/page-figures.ts";
import type { UnitChoice } from "../display/units.ts";
import { lookBackWords as text } from "../language/look-back-words.ts";

/** One sentence of a verdict, with what explains its figure. */
export interface VerdictLine {
  text: string;
  figure: PageFigure;
}

/** The sentences behind a verdict: what was, and why no more can be said. */
export function verdictLines(report: LookBack, units: UnitChoice, zone: string): VerdictLine[] {
  const { record } = report;
  const flow = (lpm: number) => flowFigure(lpm, units);
  const lines: VerdictLine[] = [];
  const say = (figure: PageFigure, line: string) => lines.push({ figure, text: line });
  const { verdict, mean, lowest } = record;
  if (record.arcWithoutGasS > 0) {
    say("record-arc", text.arcWithout(secondsInWords(record.arcWithoutGasS)));
  }
  if (verdict === "short" && record.shortS > 0) {
    const [short, all] = [secondsInWords(record.shortS), secondsInWords(record.gasOnS)];
    say("record-short", text.shortFor(short, all));
  }
  if (verdict === "cannot-tell") lines.push(...reasons(report));
  if (mean) {
    const line = text.meanFlow(flow(mean.lpm), flow(mean.low), flow(mean.high), units.flow);
    say("record-mean", line);
  }
  if (lowest) {
    const time = clockTime(lowest.t, zone);
    say(
      "record-lowest",
      text.lowestFlow(flow(lowest.lpm), flow(lowest.low), flow(lowest.high), units.flow, time),
    );
    say("record-needed", text.needed(flow(lowest.minimumLpm), units.flow));
  }
  if (verdict === "not-short")
    say("record-enough", text.everySecond(secondsInWords(record.enoughS)));
  if (record.overS > 0) say("record-over", text.over(secondsInWords(record.overS)));
  return lines;
}

function reasons({ record, from, keptFrom }: LookBack): VerdictLine[] {
  const lines: VerdictLine[] = [];
  const say = (figure: PageFigure, line: string) => lines.push({ figure, text: line });
  if (record.noDataS > 0)
    say("record-no-data", text.why["no-data"](secondsInWords(record.noDataS)));
  if (from < keptFrom) say("record-no-data", text.why.notKept);
  if (record.doubtS > 0) say("record-doubt", text.why.doubt(secondsInWords(record.doubtS)));
  if (record.shortS > 0) say("record-short", text.why.brief(secondsInWords(record.shortS)));
  return lines;
}

/** Everything that a verdict's *how?* explains: the verdict by its parts, then each sentence. */
export function verdictFigures(
  report: LookBack,
  lines: readonly VerdictLine[],
): readonly AskedFigure[] {
  const parts = barParts(report).map(
    ({ kind, seconds }) => [text.bar[kind], secondsInWords(seconds)] as const,
  );
  const verdict: AskedFigure = {
    figure: "record-verdict",
    label: text.verdict[report.record.verdict],
    rests: parts,
  };
  return [verdict, ...lines.map(({ figure, text: label }) => ({ figure, label }))];
}

/** What explains each part of the bar. */
export const barFigures = {
  enough: "record-enough",
  short: "record-short",
  arc: "record-arc",
  doubt: "record-doubt",
  noWindow: "record-no-window",
  edge: "record-edge",
  noData: "record-no-data",
} as const satisfies Record<string, PageFigure>;

/** What a time span was made of, as shares of a bar; those of none are left out. */
export function barParts({ record }: LookBack) {
  const parts = [
    { kind: "enough", seconds: record.enoughS },
    { kind: "short", seconds: record.shortS },
    { kind: "arc", seconds: record.arcWithoutGasS },
    { kind: "doubt", seconds: record.doubtS },
    { kind: "noWindow", seconds: record.noWindowS },
    { kind: "edge", seconds: record.edgeS },
    { kind: "noData", seconds: record.noDataS },
  ] as const;
  return parts.filter(({ seconds }) => seconds > 0);
}

/** Whether no second of the span was recorded: then no count and no sum says anything. */
export function nothingRecorded({ record, from, to }: LookBack): boolean {
  return record.noDataS >= to - from - 1;
}
