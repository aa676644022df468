import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { nowS, timeZone } from "../api/store.ts";
import { reasonText } from "../display/alarm-text.ts";
import { cylinderFill } from "../display/cylinder-fill.ts";
import { aboutMoment, minutesBoundsInWords, spreadS } from "../display/durations.ts";
import { heldContentText } from "../display/held-content.ts";
import { measuredPa } from "../display/measured-pressure.ts";
import { pressureText } from "../display/numbers.ts";
import { smallerRemaining, timeLeft } from "../display/time-left.ts";
import type { UnitChoice } from "../display/units.ts";
import { cylinderLabel } from "../floor/tile.tsx";
import { words } from "../language/words.ts";
import { Explained } from "../shell/explain.tsx";
import { fullContentOf } from "../shell/view-state.ts";
import { Cylinder } from "../signs/cylinder.tsx";

/** How long the gas lasts, with the one figure that a gauge of one's own can check. */
export function LeftCard(props: { view: StationView; units: UnitChoice; liquid: boolean }) {
  const { view, units, liquid } = props;
  const estimate = view.estimate;
  const full = fullContentOf(view);
  const measured = measuredPa(view, "cylinder") ?? null;
  const left = estimate ? timeLeft(estimate.remaining) : null;
  const atNeed =
    estimate && smallerRemaining(estimate.remaining) === estimate.remaining.atTargetMinutes;
  const clock = estimate?.remaining.clockMinutes.median ?? null;
  return (
    <section class="card left-card" aria-label={words.left.title}>
      <Cylinder
        fill={estimate ? cylinderFill(estimate.content, full) : null}
        liquid={liquid}
        count={view.description.cylinder?.count ?? 1}
        label={cylinderLabel(view, liquid, full)}
      />
      <div class="left-words">
        <h2 class="card-title">{words.left.title}</h2>
        <p class={left && left.text.length > 7 ? "left-figure left-figure-long" : "left-figure"}>
          <Explained id={view.id} field="left" label={words.left.title}>
            <span data-field="left">{left?.text ?? "–"}</span>
          </Explained>
        </p>
        {left?.low != null && left.high != null && (
          <p class="card-note">
            <Explained id={view.id} field="left" label={words.left.title} inRow>
              {minutesBoundsInWords(left.low, left.high)}
              {atNeed ? ` ${words.left.atNeed}` : ""}
            </Explained>
          </p>
        )}
        {left?.why && <p class="card-note">{reasonText(left.why, units)}</p>}
        <p class="card-note">
          <Explained id={view.id} field="cylinder-pressure" label={words.station.figures.cylinder}>
            {measured === null && `${words.station.figures.cylinder} `}
            <span data-field="cylinder-pressure">{pressureText(measured, units)}</span>
          </Explained>
          {estimate && clock !== null && clock < 60 * 24 * 60 && (
            <>
              {", "}
              <Explained id={view.id} field="clock" label={words.station.figures.clock} inRow>
                {words.left.changeBy(
                  aboutMoment(
                    estimate.t + clock * 60,
                    spreadS(estimate.remaining.clockMinutes),
                    nowS.value,
                    timeZone.value,
                  ),
                )}
              </Explained>
            </>
          )}
        </p>
        {estimate?.content.ageS !== undefined && (
          <p class="card-small" data-field="held">
            {heldContentText(estimate, nowS.value)}
          </p>
        )}
        {liquid && <p class="card-small">{words.sentence.liquid}</p>}
      </div>
    </section>
  );
}
