import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { nowS, stationOf } from "../api/store.ts";
import { ageInWords } from "../display/durations.ts";
import {
  type ExplainedField,
  type Explanation,
  explain,
  explainedSources,
  type Reading,
} from "../display/explain.ts";
import { fixed, linePressureText, pressureText, temperatureText } from "../display/numbers.ts";
import { stationHref } from "../display/route.ts";
import { pressureInUnit, type UnitChoice } from "../display/units.ts";
import { explainWords } from "../language/explain-words.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { Dialog } from "./dialog.tsx";
import { mayHoldLiquid } from "./view-state.ts";

/** How figures came about: the way, the readings with their age, and the source. */
export function ExplainDialog(props: {
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
      <div class="dialog-actions">
        {fields.length > 1 && (
          <a class="button button-glove" href={stationHref(view.id)} onClick={props.onClose}>
            {text.openStation}
          </a>
        )}
        <button type="button" class="button button-glove button-strong" onClick={props.onClose}>
          {text.close}
        </button>
      </div>
    </Dialog>
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
      {sources.length > 0 && (
        <p class="quiet">
          {text.source} {sources.map((source) => explainedSources[source]).join("; ")}.
        </p>
      )}
    </section>
  );
}

function readingText(view: StationView, reading: Reading, chosen: UnitChoice): string {
  const estimate = view.estimate;
  const value = {
    "cylinder-pressure": pressureText(estimate?.measured?.cylinderPa, chosen),
    "line-pressure": linePressureText(estimate?.measured?.linePa, chosen),
    "cylinder-temperature": temperatureText(estimate?.measured?.cylinderC, chosen),
    "regulator-temperature": temperatureText(estimate?.regulatorC, chosen),
    arc: "",
  }[reading];
  return `${explainWords.readings[reading]} ${value}`;
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
