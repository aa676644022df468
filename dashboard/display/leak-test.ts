import type { LeakTestEstimate } from "@leeward/shared-core/estimation/estimate.ts";
import { leakTestWords as text } from "../language/leak-test-words.ts";
import { secondsInWords } from "./durations.ts";
import { fixed } from "./numbers.ts";

/** Litres a day of 1 cm³/min. */
const LITRES_A_DAY = 1.44;

export function isUnderWay(test: LeakTestEstimate): boolean {
  return test.phase === "settling" || test.phase === "running";
}

/** Share of the test that is over, 0 to 1, and what is to be done meanwhile. */
export function leakCourse(test: LeakTestEstimate, t: number): { done: number; text: string } {
  const left = secondsInWords(Math.max(0, test.until - t));
  return {
    done: Math.min(1, Math.max(0, (t - test.since) / (test.until - test.since))),
    text: test.phase === "settling" ? text.settling(left) : text.running(left),
  };
}

/** What the test found, in one sentence; `bad` where something must be done. */
export function leakVerdict(test: LeakTestEstimate): { text: string; bad: boolean } {
  if (test.phase === "void" || test.side === undefined || test.tested === undefined) {
    return {
      text: test.why === undefined ? text.void : `${text.why[test.why]} ${text.void}`,
      bad: false,
    };
  }
  return test.side === "none"
    ? { text: text.none[test.tested], bad: false }
    : { text: text.found[test.side], bad: true };
}

export interface LeakSideLines {
  side: "cylinder" | "line";
  /** The loss with its interval where one was found, else what would have been found. */
  value: string;
  note: string | null;
}

/** The two sides with their figures. */
export function leakSides(test: LeakTestEstimate): LeakSideLines[] {
  if (test.phase !== "done") return [];
  return (["cylinder", "line"] as const).map((side) => {
    const loss = test[side];
    if (!loss) return { side, value: text.notJudged, note: null };
    const value = text.loses(rate(loss.cm3PerMin), rate(loss.low), rate(loss.high));
    const found =
      test.side === side ||
      test.side === "both" ||
      (test.side === "unknown" && side === "cylinder");
    return {
      side,
      value,
      note: found
        ? text.aDay(rate(loss.cm3PerMin * LITRES_A_DAY))
        : text.smallest(rate(loss.smallest)),
    };
  });
}

/** Two figures: more are not known. */
function rate(value: number): string {
  if (value === 0) return fixed(0, 0);
  const shown = Number(value.toPrecision(2));
  return fixed(shown, shown < 0.1 ? 3 : shown < 1 ? 2 : shown < 10 ? 1 : 0);
}
