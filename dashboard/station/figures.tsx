import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { cannotSee } from "../display/cannot-see.ts";
import { ageInWords } from "../display/durations.ts";
import type { UnitChoice } from "../display/units.ts";
import { words } from "../language/words.ts";
import { Explained } from "../shell/explain.tsx";
import { freshnessOf } from "../shell/view-state.ts";
import { estimatedFigures, type Figure, measuredFigures, parts } from "./figure-lists.ts";

function FigureValue({ figure }: { figure: Figure }) {
  return (
    <span class={figure.text ? "figure-text" : undefined} data-field={figure.field}>
      {figure.value}
    </span>
  );
}

/** Nearer: every figure with its interval, what the estimate rests on, what cannot be seen. */
export function Figures(props: { view: StationView; units: UnitChoice; liquid: boolean }) {
  const { view, units, liquid } = props;
  const text = words.station;
  const age = freshnessOf(view);
  const blind = cannotSee(view.description, view.estimate, liquid);
  return (
    <div class="station-bottom">
      <section class="card figures" aria-labelledby="figures-title">
        <h2 class="card-title" id="figures-title">
          {text.fromData}
          {age.state === "old" && age.ageS !== null && (
            <small class="figures-age">{words.state.old(ageInWords(age.ageS))}</small>
          )}
        </h2>
        <dl>
          {[...measuredFigures(view, units), ...estimatedFigures(view, units)].map((figure) => (
            <div key={figure.field}>
              <dt>{figure.name}</dt>
              <dd>
                {figure.explains ? (
                  <Explained id={view.id} field={figure.explains} label={figure.name}>
                    <FigureValue figure={figure} />
                  </Explained>
                ) : (
                  <FigureValue figure={figure} />
                )}
                {figure.note && <small>{figure.note}</small>}
                {figure.why && <small data-field={`${figure.field}-why`}>{figure.why}</small>}
              </dd>
            </div>
          ))}
        </dl>
        <dl class="made-of">
          {parts(view, units).map((part) => (
            <div key={part.name}>
              <dt>{part.name}</dt>
              <dd>{part.value}</dd>
            </div>
          ))}
        </dl>
        <p class="card-small">
          {text.figures.interval} {text.figures.reference(words.units.references[units.reference])}
        </p>
      </section>
      <section class="card blind" aria-labelledby="blind-title">
        <h2 class="card-title" id="blind-title">
          {text.cannotSeeTitle}
        </h2>
        <ul>
          {blind.map((thing) => (
            <li key={thing}>{text.cannotSee[thing]}</li>
          ))}
        </ul>
      </section>
    </div>
  );
}
