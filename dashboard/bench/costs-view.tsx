import { postFlowCost } from "@leeward/shared-core/bench/post-flow-cost.ts";
import {
  type SurgeAnswer,
  startSurge,
  surgeSaving,
} from "@leeward/shared-core/bench/start-surge.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { useState } from "preact/hooks";
import { DASH, fixed, volumeText } from "../display/numbers.ts";
import { benchWords as text } from "../language/bench-words.ts";
import { units } from "../settings/settings.ts";
import { FigureField, figure } from "./fields.tsx";

type Fields = Record<
  "rest" | "flowing" | "lower" | "starts" | "days" | "gas" | "postflow" | "part" | "stops" | "flow",
  string
>;

/** What starts and post-flow cost a year, with the shop's own prices. */
export function CostsView(props: {
  station: StationDocument;
  restBar: string;
  flowingBar: string;
  targetLpm: number | null;
}) {
  const { station } = props;
  const [typed, setTyped] = useState<Partial<Fields>>({});
  const value = (name: keyof Fields, start = "") => typed[name] ?? start;
  const field = (name: keyof Fields, label: string, start = "") => (
    <FigureField
      label={label}
      value={value(name, start)}
      onChange={(text_) => setTyped({ ...typed, [name]: text_ })}
    />
  );
  const postflow = String(station.procedure?.postflowS ?? "");
  const rest = figure(value("rest", props.restBar));
  const flowing = figure(value("flowing", props.flowingBar));
  const lower = figure(value("lower"));
  const starts = figure(value("starts"));
  const days = figure(value("days"));
  const perM3 = figure(value("gas"));
  const composition = station.cylinder?.composition;
  const { hose } = station;
  const input =
    composition && hose && rest !== null && flowing !== null && starts !== null && days !== null
      ? {
          composition,
          hose,
          restBar: rest,
          flowingBar: flowing,
          startsPerDay: starts,
          workdaysPerYear: days,
          pricePerLitre: perM3 === null ? null : perM3 / 1000,
        }
      : null;
  const surge = input && startSurge(input);
  const saving = input && lower !== null ? surgeSaving(input, lower) : null;
  const seconds = figure(value("postflow", postflow));
  const part = figure(value("part"));
  const stops = figure(value("stops"));
  const after =
    props.targetLpm !== null &&
    seconds !== null &&
    starts !== null &&
    days !== null &&
    perM3 !== null
      ? postFlowCost({
          flowLpm: props.targetLpm,
          postflowS: seconds,
          stopsPerDay: starts,
          workdaysPerYear: days,
          pricePerLitre: perM3 / 1000,
          consumable: part === null || stops === null ? null : { price: part, stops },
        })
      : null;
  return (
    <section class="card bench-card no-print">
      <h2 class="card-title">{text.surgeTitle}</h2>
      {hose && <p class="quiet">{text.hose(String(hose.lengthM), String(hose.boreMm))}</p>}
      <div class="fields">
        {field("rest", text.restBar, props.restBar)}
        {field("flowing", text.flowingBar, props.flowingBar)}
        {field("starts", text.starts)}
        {field("days", text.days)}
        {field("gas", text.perM3)}
        {field("lower", text.lowerTo)}
      </div>
      {surge ? <SurgeFigures surge={surge} saving={saving} /> : <p>{text.fillIn}</p>}
      <h2 class="card-title">{text.post}</h2>
      <div class="fields">
        {field("postflow", text.postflowS, postflow)}
        {field("part", text.consumablePrice)}
        {field("stops", text.consumableStops)}
      </div>
      {after?.ok ? (
        <dl class="bench-figures" data-field="post-flow">
          <Figure label={text.costYear} value={fixed(after.value.gasCostPerYear, 2)} />
          <Figure label={text.perSecond} value={fixed(after.value.costPerSecondYear, 2)} />
          <Figure
            label={text.breakEven}
            value={
              after.value.breakEvenLongerLife === null
                ? DASH
                : `${fixed(after.value.breakEvenLongerLife * 100, 1)} %`
            }
          />
        </dl>
      ) : (
        <p>{after ? after.why : text.fillIn}</p>
      )}
    </section>
  );
}

function Figure({ label, value }: { label: string; value: string }) {
  return (
    <div>
      <dt>{label}</dt>
      <dd>{value}</dd>
    </div>
  );
}

function SurgeFigures({ surge, saving }: { surge: SurgeAnswer; saving: SurgeAnswer | null }) {
  if (!surge.ok) return <p class="caution">{surge.why}</p>;
  const { litresPerStart, litresPerYear, costPerYear } = surge.value;
  const chosen = units.value;
  const cost = (value: number | null) => (value === null ? DASH : fixed(value, 2));
  return (
    <dl class="bench-figures" data-field="surge">
      <Figure label={text.perStart} value={`${fixed(litresPerStart, 2)} L`} />
      <Figure label={text.perYear} value={volumeText(litresPerYear, chosen)} />
      <Figure label={text.costYear} value={cost(costPerYear)} />
      {saving?.ok && (
        <Figure
          label={text.saves}
          value={`${volumeText(saving.value.litresPerYear, chosen)}, ${cost(saving.value.costPerYear)}`}
        />
      )}
    </dl>
  );
}
