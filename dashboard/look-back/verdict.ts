import type { LookBack } from "@leeward/shared-core/api/look-back.ts";
import { clockTime, secondsInWords } from "../display/durations.ts";
import { flowFigure } from "../display/numbers.ts";
import type { UnitChoice } from "../display/units.ts";
import { lookBackWords as text } from "../language/look-back-words.ts";

/** The sentences behind a verdict: what was, and why no more can be said. */
export function verdictLines(report: LookBack, units: UnitChoice, zone: string): string[] {
  const { record } = report;
  const flow = (lpm: number) => flowFigure(lpm, units);
  const lines: string[] = [];
  const { verdict, mean, lowest } = record;
  if (record.arcWithoutGasS > 0) lines.push(text.arcWithout(secondsInWords(record.arcWithoutGasS)));
  if (verdict === "short" && record.shortS > 0) {
    lines.push(text.shortFor(secondsInWords(record.shortS), secondsInWords(record.gasOnS)));
  }
  if (verdict === "cannot-tell") lines.push(...reasons(report));
  if (mean) {
    lines.push(text.meanFlow(flow(mean.lpm), flow(mean.low), flow(mean.high), units.flow));
  }
  if (lowest) {
    const time = clockTime(lowest.t, zone);
    lines.push(
      text.lowestFlow(flow(lowest.lpm), flow(lowest.low), flow(lowest.high), units.flow, time),
      text.needed(flow(lowest.minimumLpm), units.flow),
    );
  }
  if (verdict === "not-short") lines.push(text.everySecond(secondsInWords(record.enoughS)));
  if (record.overS > 0) lines.push(text.over(secondsInWords(record.overS)));
  return lines;
}

function reasons({ record, from, keptFrom }: LookBack): string[] {
  const lines: string[] = [];
  if (record.noDataS > 0) lines.push(text.why["no-data"](secondsInWords(record.noDataS)));
  if (from < keptFrom) lines.push(text.why.notKept);
  if (record.doubtS > 0) lines.push(text.why.doubt(secondsInWords(record.doubtS)));
  if (record.shortS > 0) lines.push(text.why.brief(secondsInWords(record.shortS)));
  return lines;
}

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
