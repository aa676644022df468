import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { postFlowCost } from "@leeward/shared-core/bench/post-flow-cost.ts";
import {
  type SurgeAnswer,
  startSurge,
  surgeSaving,
} from "@leeward/shared-core/bench/start-surge.ts";
import { BAR_PA } from "@leeward/shared-core/units/factors.ts";
import { useEffect, useState } from "preact/hooks";
import { type Answer, getStation, putStation } from "../api/client.ts";
import { DASH, fixed, flowFigure, volumeText } from "../display/numbers.ts";
import type { PageFigure, Rest } from "../display/page-figures.ts";
import { pressureInUnit } from "../display/units.ts";
import { benchWords as text } from "../language/bench-words.ts";
import { coreText } from "../language/core-words.ts";
import { units } from "../settings/settings.ts";
import { Explained } from "../shell/explain.tsx";
import { ProblemNote } from "../shell/problem-note.tsx";
import { type CostFields, costInput, startingFields } from "./cost-fields.ts";
import { FigureField } from "./fields.tsx";
import { figure } from "./figure.ts";
import { Fold } from "./fold.tsx";
import { PressureField } from "./pressure-field.tsx";
import { type CountedStarts, stationStarts } from "./station-starts.ts";

/** What starts and post-flow cost a year, with the shop's own prices and the station's own starts. */
export function CostsView(props: {
  view: StationView;
  restBar: number | null;
  flowingBar: number | null;
  targetLpm: number | null;
}) {
  const { view } = props;
  const station = view.description;
  const [counted, setCounted] = useState<CountedStarts | null>(null);
  const [typed, setTyped] = useState<Partial<CostFields>>({});
  const [bars, setBars] = useState<{ rest?: number | null; flowing?: number | null }>({});
  const [lowerBar, setLowerBar] = useState<number | null>(null);
  const [saved, setSaved] = useState<Answer<StationView> | null>(null);
  useEffect(() => {
    void stationStarts(view.id, view.estimate?.t ?? Date.now() / 1000).then(setCounted);
  }, [view.id]);
  const fields = { ...startingFields(station, counted?.perDay ?? null), ...typed };
  const field = (name: keyof CostFields, label: string) => (
    <FigureField
      label={label}
      value={fields[name]}
      onChange={(value) => setTyped({ ...typed, [name]: value })}
    />
  );
  const restBar = bars.rest === undefined ? props.restBar : bars.rest;
  const flowingBar = bars.flowing === undefined ? props.flowingBar : bars.flowing;
  const shared = costInput(fields);
  const composition = station.cylinder?.composition;
  const { hose } = station;
  const input =
    composition && hose && restBar !== null && flowingBar !== null && shared
      ? { composition, hose, restBar, flowingBar, ...shared }
      : null;
  const surge = input && startSurge(input);
  const saving = input && lowerBar !== null ? surgeSaving(input, lowerBar) : null;
  const seconds = figure(fields.postflow);
  const part = figure(fields.part);
  const stops = figure(fields.stops);
  const after =
    props.targetLpm !== null && seconds !== null && shared && shared.pricePerLitre !== null
      ? postFlowCost({
          flowLpm: props.targetLpm,
          postflowS: seconds,
          stopsPerDay: shared.startsPerDay,
          workdaysPerYear: shared.workdaysPerYear,
          pricePerLitre: shared.pricePerLitre,
          consumable: part === null || stops === null ? null : { price: part, stops },
        })
      : null;
  const typedRests: Rest[] = [
    [text.starts, fields.starts],
    [text.days, fields.days],
    [text.perM3, fields.gas || DASH],
  ];
  const keep = async () => {
    const fresh = await getStation(view.id);
    if (!fresh.ok) {
      setSaved(fresh);
      return;
    }
    const known = (name: string, value: number | null) => (value === null ? {} : { [name]: value });
    const costs = {
      ...known("startsPerDay", figure(fields.starts)),
      ...known("workdaysPerYear", figure(fields.days)),
      ...known("gasPerM3", figure(fields.gas)),
      ...known("consumablePrice", part),
      ...known("consumableStops", stops),
    };
    const { description, version } = fresh.value;
    setSaved(await putStation(view.id, { ...description, costs }, version));
  };
  return (
    <Fold title={text.surgeTitle} field="costs">
      {hose && <p class="quiet">{text.hose(fixed(hose.lengthM, 1), fixed(hose.boreMm, 1))}</p>}
      {counted && (
        <p class="quiet" data-field="counted">
          <Explained figure="cost-counted" label={text.starts}>
            {text.counted(fixed(counted.perDay, 0), counted.days)}
          </Explained>
        </p>
      )}
      <div class="fields">
        <PressureField
          label={text.rest}
          bar={restBar}
          onChange={(rest) => setBars({ ...bars, rest })}
        />
        <PressureField
          label={text.flowing}
          bar={flowingBar}
          onChange={(flowing) => setBars({ ...bars, flowing })}
        />
        {field("starts", text.starts)}
        {field("days", text.days)}
        {field("gas", text.perM3)}
        <PressureField label={text.lowerTo} bar={lowerBar} onChange={setLowerBar} />
      </div>
      {surge ? (
        <SurgeFigures
          surge={surge}
          saving={saving}
          typed={typedRests}
          bars={[restBar, flowingBar]}
        />
      ) : (
        <p>{text.fillIn}</p>
      )}
      <h2 class="card-title">{text.post}</h2>
      <div class="fields">
        {field("postflow", text.postflowS)}
        {field("part", text.consumablePrice)}
        {field("stops", text.consumableStops)}
      </div>
      {after?.ok ? (
        <dl class="bench-figures" data-field="post-flow">
          <Figure
            figure="cost-post-flow"
            label={text.costYear}
            value={fixed(after.value.gasCostPerYear, 2)}
            rests={[
              [text.window, `${flowFigure(props.targetLpm, units.value)} ${units.value.flow}`],
              [text.postflowS, fields.postflow],
              ...typedRests,
            ]}
          />
          <Figure
            figure="cost-second"
            label={text.perSecond}
            value={fixed(after.value.costPerSecondYear, 2)}
            rests={typedRests}
          />
          <Figure
            figure="cost-break-even"
            label={text.breakEven}
            rests={[
              [text.perSecond, fixed(after.value.costPerSecondYear, 2)],
              [text.consumablePrice, fields.part || DASH],
              [text.consumableStops, fields.stops || DASH],
            ]}
            value={
              after.value.breakEvenLongerLife === null
                ? DASH
                : `${fixed(after.value.breakEvenLongerLife * 100, 1)} %`
            }
          />
        </dl>
      ) : (
        <p>{after ? coreText(after.why) : text.fillIn}</p>
      )}
      <div class="bench-buttons">
        <button type="button" class="button button-glove" onClick={() => void keep()}>
          {text.keepCosts}
        </button>
      </div>
      {saved?.ok && (
        <p class="noted" role="status">
          {text.costsKept}
        </p>
      )}
      <ProblemNote answer={saved} />
    </Fold>
  );
}

function Figure(props: {
  figure: PageFigure;
  label: string;
  value: string;
  rests: readonly Rest[];
}) {
  const { figure, label, value, rests } = props;
  return (
    <div>
      <dt>{label}</dt>
      <dd>
        <Explained figure={figure} label={label} rests={() => rests}>
          {value}
        </Explained>
      </dd>
    </div>
  );
}

function SurgeFigures(props: {
  surge: SurgeAnswer;
  saving: SurgeAnswer | null;
  /** Starts, days and price as typed. */
  typed: readonly Rest[];
  /** Gauge pressure in the hose at rest and while gas flows. */
  bars: readonly [rest: number | null, flowing: number | null];
}) {
  const { surge, saving, typed, bars } = props;
  if (!surge.ok) return <p class="caution">{coreText(surge.why)}</p>;
  const { litresPerStart, litresPerYear, costPerYear } = surge.value;
  const chosen = units.value;
  const cost = (value: number | null) => (value === null ? DASH : fixed(value, 2));
  const start = `${fixed(litresPerStart, 2)} L`;
  const year = volumeText(litresPerYear, chosen);
  const pressures = [text.rest, text.flowing].map((name, k): Rest => {
    const bar = bars[k] ?? null;
    const value = bar === null ? DASH : fixed(pressureInUnit(bar * BAR_PA, chosen), 2);
    return [name(chosen.pressure), value];
  });
  return (
    <dl class="bench-figures" data-field="surge">
      <Figure figure="cost-start" label={text.perStart} value={start} rests={pressures} />
      <Figure
        figure="cost-year"
        label={text.perYear}
        value={year}
        rests={[[text.perStart, start], ...typed.slice(0, 2)]}
      />
      <Figure
        figure="cost-money"
        label={text.costYear}
        value={cost(costPerYear)}
        rests={[[text.perYear, year], ...typed.slice(2)]}
      />
      {saving?.ok && (
        <Figure
          figure="cost-saves"
          label={text.saves}
          value={`${volumeText(saving.value.litresPerYear, chosen)}, ${cost(saving.value.costPerYear)}`}
          rests={[[text.perYear, year], ...typed]}
        />
      )}
    </dl>
  );
}
