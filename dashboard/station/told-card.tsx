import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { nowS, timeZone } from "../api/store.ts";
import { jobLine, purgeLine } from "../display/told.ts";
import { words } from "../language/words.ts";
import { ProblemNote } from "../shell/problem-note.tsx";
import { freshnessOf } from "../shell/view-state.ts";
import { useEntry } from "./use-entry.ts";

/** A purge and a job that were declared, how they stand, and the button that ends each. */
export function ToldCard({ view }: { view: StationView }) {
  const purging = useEntry(view.id);
  const working = useEntry(view.id);
  const estimate = view.estimate;
  if (!estimate) return null;
  const purge = purgeLine(estimate);
  const live = freshnessOf(view).state === "live";
  const job = live || estimate.told?.job ? jobLine(estimate, nowS.value, timeZone.value) : null;
  if (!purge && !job) return null;
  // Nothing was told: a line is enough.
  if (!estimate.told) {
    return (
      <p class="told-nothing" data-field="job">
        {job}
      </p>
    );
  }
  return (
    <section class="card told" aria-label={words.told.title}>
      {purge && (
        <div class="told-row">
          <p class="told-text" data-field="purge">
            <strong>{words.actions.purgeTitle}.</strong> {purge.text}
          </p>
          {purge.done !== null && (
            <progress
              class="told-progress"
              value={purge.done}
              aria-label={words.told.purgeProgress}
            />
          )}
          <button
            type="button"
            class="button button-glove"
            disabled={purging.state === "sending"}
            onClick={() => purging.send("purge", { purge: { end: true } })}
          >
            {words.actions.purgeEnd}
          </button>
          <ProblemNote answer={purging.answer} />
        </div>
      )}
      {job && (
        <div class="told-row">
          <p class="told-text" data-field="job">
            {job}
          </p>
          {estimate.told?.job && (
            <button
              type="button"
              class="button button-glove"
              disabled={working.state === "sending"}
              onClick={() => working.send("job", { job: { end: true } })}
            >
              {words.actions.jobEnd}
            </button>
          )}
          <ProblemNote answer={working.answer} />
        </div>
      )}
    </section>
  );
}
