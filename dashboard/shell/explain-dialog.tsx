import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { ComponentChildren } from "preact";
import { nowS, stationOf } from "../api/store.ts";
import { ageInWords } from "../display/durations.ts";
import {
  type ExplainedField,
  type ExplainedSource,
  type Explanation,
  explain,
  explainedSources,
} from "../display/explain.ts";
import { fixed } from "../display/numbers.ts";
import { type AskedFigure, pageFigures } from "../display/page-figures.ts";
import { readingText } from "../display/reading-text.ts";
import { stationHref } from "../display/route.ts";
import { pressureInUnit, type UnitChoice } from "../display/units.ts";
import { explainPagesWords } from "../language/explain-pages-words.ts";
import { explainWords } from "../language/explain-words.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { Dialog } from "./dialog.tsx";
import type { Asked } from "./explain.tsx";
import { mayHoldLiquid } from "./view-state.ts";

/** How figures came about: the way, what they rest on with its age, and the source. */
export function ExplainDialog({ asked, onClose }: { asked: Asked; onClose: () => void }) {
  if ("figures" in asked) {
    return (
      <Dialog title={asked.title ?? explainWords.title} onClose={onClose}>
        {asked.figures.map((one) => (
          <PageExplanation key={`${one.figure} ${one.label}`} asked={one} />
        ))}
        <p class="quiet">{explainWords.interval}</p>
        <Close onClose={onClose} />
      </Dialog>
    );
  }
  return <StationExplanations {...asked} onClose={onClose} />;
}

function StationExplanations(props: {
  id: string;
  fields: readonly ExplainedField[];
  onClose: () => void;
}) {
  const view = stationOf(props.id);
  if (!view) return null;
  const text = explainWords;
  const liquid = mayHoldLiquid(view);
  const last = view.node.lastSample;
  const ageS = last === null ? null : Math.max(0, nowS.value - Date.parse(last) / 1000);
  const { fields } = props;
  return (
    <Dialog title={fields.length > 1 ? view.name : text.title} onClose={props.onClose}>
      {fields.map((field) => (
        <Explain key={field} view={view} explanation={explain(view, field, liquid)} />
      ))}
      <p class="quiet">
        {ageS === null ? words.state.noData : text.asOf(ageInWords(ageS))} {text.interval}{" "}
        {text.gauge}
      </p>
      <Close onClose={props.onClose}>
        {fields.length > 1 && (
          <a class="button button-glove" href={stationHref(view.id)} onClick={props.onClose}>
            {text.openStation}
          </a>
        )}
      </Close>
    </Dialog>
  );
}

function Close(props: { onClose: () => void; children?: ComponentChildren }) {
  return (
    <div class="dialog-actions">
      {props.children}
      <button type="button" class="button button-glove button-strong" onClick={props.onClose}>
        {explainWords.close}
      </button>
    </div>
  );
}

function PageExplanation({ asked }: { asked: AskedFigure }) {
  const { figure, label, rests = [], why } = asked;
  return (
    <section class="explain" data-explains={figure}>
      <h3>{label}</h3>
      <p>
        {explainPagesWords.how[figure]}{" "}
        {why != null && explainWords.notKnown(why.replace(/\.$/, ""))}
      </p>
      {rests.length > 0 && (
        <dl class="explain-rests" aria-label={explainPagesWords.rests}>
          {rests.map(([name, value]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </div>
          ))}
        </dl>
      )}
      <Sources sources={pageFigures[figure]} />
    </section>
  );
}

function Sources({ sources }: { sources: readonly ExplainedSource[] }) {
  if (sources.length === 0) return null;
  return (
    <p class="quiet">
      {explainWords.source} {sources.map((source) => explainedSources[source]).join("; ")}.
    </p>
  );
}

function Explain({ view, explanation }: { view: StationView; explanation: Explanation }) {
  const text = explainWords;
  const { field, method, readings, sources, why } = explanation;
  return (
    <section class="explain" data-explains={field} data-method={method}>
      <h3>{text.fields[field]}</h3>
      <p>
        {text.methods[method]} {why !== null && text.notKnown(why.replace(/\.$/, ""))}
      </p>
      {readings.length > 0 && (
        <p class="quiet">
          {text.from}{" "}
          {readings.map((reading) => readingText(view, reading, units.value)).join(", ")}.{" "}
          {sensorText(view, field, units.value)}
        </p>
      )}
      <Sources sources={sources} />
    </section>
  );
}

function sensorText(view: StationView, field: ExplainedField, chosen: UnitChoice): string {
  const { sensors } = view.description;
  const sensor =
    field === "cylinder-pressure"
      ? sensors?.cylinder
      : field === "line-pressure"
        ? sensors?.line
        : undefined;
  if (!sensor) return "";
  const range = `${fixed(pressureInUnit(sensor.rangeBar * 1e5, chosen), 0)} ${chosen.pressure}`;
  return explainWords.sensor(range, fixed(sensor.accuracyPercentFs, 1));
}
