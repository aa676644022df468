import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { useState } from "preact/hooks";
import { nowS, timeZone } from "../api/store.ts";
import { dayAndTime } from "../display/durations.ts";
import { isUnderWay, leakCourse } from "../display/leak-test.ts";
import type { UnitChoice } from "../display/units.ts";
import { leakTestWords as text } from "../language/leak-test-words.ts";
import { ProblemNote } from "../shell/problem-note.tsx";
import { LeakTestDialog } from "./leak-test-dialog.tsx";
import { LeakTestResult } from "./leak-test-result.tsx";
import { useEntry } from "./use-entry.ts";

/** A leak test on the Station page: its course while it runs, then what it found. */
export function LeakTestCard({ view, units }: { view: StationView; units: UnitChoice }) {
  const entry = useEntry(view.id);
  const [again, setAgain] = useState(false);
  const estimate = view.estimate;
  const test = estimate?.leak.test;
  if (!estimate || !test) return null;
  if (!isUnderWay(test)) {
    return (
      <section class="card leak-test" aria-label={text.title} data-phase={test.phase}>
        <h2 class="leak-title">{text.of(dayAndTime(test.since, nowS.value, timeZone.value))}</h2>
        <LeakTestResult test={test} />
        {(test.phase === "void" || test.side !== "none") && (
          <div>
            <button type="button" class="button button-glove" onClick={() => setAgain(true)}>
              {text.again}
            </button>
          </div>
        )}
        {again && <LeakTestDialog view={view} units={units} onClose={() => setAgain(false)} />}
      </section>
    );
  }
  const course = leakCourse(test, estimate.t);
  return (
    <section class="card told" aria-label={text.title} data-phase={test.phase}>
      <div class="told-row">
        <p class="told-text" data-field="leak-course">
          <strong>{text.title}.</strong> {course.text}
        </p>
        <p class="quiet">{text.leaveIn}</p>
        <progress class="told-progress" value={course.done} aria-label={text.progress} />
        <button
          type="button"
          class="button button-glove"
          disabled={entry.state === "sending"}
          onClick={() => entry.send("leakTest", { leakTest: { end: true } })}
        >
          {text.giveUp}
        </button>
        <ProblemNote answer={entry.answer} />
      </div>
    </section>
  );
}
