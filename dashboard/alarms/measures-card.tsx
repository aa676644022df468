import type { AlarmMeasures } from "@leeward/shared-core/api/alarms.ts";
import { useEffect, useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { together } from "../display/advice.ts";
import { conditionTitle } from "../display/alarm-text.ts";
import { fixed } from "../display/numbers.ts";
import type { PageFigure, Rest } from "../display/page-figures.ts";
import { alarmsWords as text } from "../language/alarms-words.ts";
import { Choice } from "../shell/choice.tsx";
import { Explained } from "../shell/explain.tsx";
import { ProblemNote } from "../shell/problem-note.tsx";
import { placeName, when } from "./alarm-card.tsx";
import { getMeasures } from "./alarms-api.ts";

/** Below so many alarms their shares say nothing. */
const FEW = 20;

type Key = AlarmMeasures["benchmarks"][number]["key"];

/** Rates, floods, chattering, stale and standing, beside what the standard aims at. */
export function MeasuresCard() {
  const words = text.measures;
  const [days, setDays] = useState<"1" | "7" | "30">("7");
  const [answer, setAnswer] = useState<Answer<AlarmMeasures> | null>(null);
  useEffect(() => {
    let stopped = false;
    void getMeasures(days).then((found) => {
      if (!stopped) setAnswer(found);
    });
    return () => {
      stopped = true;
    };
  }, [days]);
  const measured = answer?.ok ? answer.value : null;
  return (
    <section class="card pages-explained" aria-labelledby="measures-title" data-field="measures">
      <h2 class="card-title" id="measures-title">
        {words.title}
      </h2>
      <p class="card-small">{words.intro}</p>
      <Choice
        label={words.span}
        name="measure-days"
        value={days}
        options={(["1", "7", "30"] as const).map((value) => ({ value, text: words.spans[value] }))}
        onChange={setDays}
      />
      <ProblemNote answer={answer} />
      {measured && <Measured measured={measured} />}
    </section>
  );
}

function Measured({ measured }: { measured: AlarmMeasures }) {
  const words = text.measures;
  // One urgent alarm among five is no fifth of anything.
  const judged = (key: Key) => key !== "high-share" || measured.raised >= FEW;
  return (
    <>
      <p data-field="rate">
        <Explained
          figure="alarms-rang"
          label={words.labels.rang}
          rests={() => [spanRest(measured)]}
        >
          {words.raised(fixed(measured.raised, 0), fixed(measured.perDay, 1))}
        </Explained>
        ,{" "}
        <Explained figure="alarms-standing" label={words.labels.standing}>
          {words.standing(measured.standing)}
        </Explained>
      </p>
      <div class="scroll">
        <table class="plain-table">
          <thead>
            <tr>
              <th scope="col">{words.what}</th>
              <th scope="col">{words.here}</th>
              <th scope="col">{words.aim}</th>
            </tr>
          </thead>
          <tbody>
            {measured.benchmarks.map(({ key, met }) => (
              <tr key={key} data-benchmark={key} data-met={met}>
                <th scope="row">{words.rows[key].what}</th>
                <td>
                  <Explained
                    figure={`alarms-${key}`}
                    label={words.rows[key].what}
                    rests={() => restsOf(measured, key)}
                  >
                    <strong>{figureOf(measured, key)}</strong>
                  </Explained>
                  {key === "mean" && (
                    <>
                      {" "}
                      <Explained figure="alarms-most" label={words.labels.most}>
                        {words.most(fixed(measured.perTenMinutes.most, 0))}
                      </Explained>
                    </>
                  )}
                </td>
                <td data-aim={key}>
                  {together(words.rows[key].aim)}
                  {judged(key) && (
                    <>
                      :{" "}
                      <span class={met ? undefined : "not-met"}>
                        {met ? words.met : words.notMet}
                      </span>
                    </>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {measured.raised < FEW && <p class="card-small">{words.few}</p>}
      <p>
        <strong>{words.floods}:</strong>{" "}
        {measured.floods.length === 0
          ? words.noFloods
          : measured.floods.map((one, k) => (
              <span key={one.from}>
                {k > 0 && "; "}
                <Explained figure="alarms-flood" label={words.labels.flood}>
                  {words.flood(when(one.from), when(one.to), fixed(one.alarms, 0))}
                </Explained>
              </span>
            ))}
      </p>
      <Places
        figure="alarms-chattering"
        title={words.rows.chattering.what}
        places={measured.chattering.map((one) => ({
          ...one,
          note: words.which(fixed(one.times, 0)),
        }))}
      />
      <Places
        figure="alarms-stale"
        title={words.rows.stale.what}
        places={measured.stale.map((one) => ({ ...one, note: words.sinceWhen(when(one.since)) }))}
      />
      <Places
        figure="alarms-place"
        title={words.topTen}
        places={measured.topTen.map((one) => ({
          ...one,
          note: `${words.which(fixed(one.times, 0))}, ${words.share(fixed(one.share * 100, 0))}`,
        }))}
      />
    </>
  );
}

function figureOf(measured: AlarmMeasures, key: Key): string {
  switch (key) {
    case "mean":
      return fixed(measured.perTenMinutes.mean, 2);
    case "over-ten":
      return `${fixed(measured.perTenMinutes.overTenShare * 100, 1)} %`;
    case "chattering":
      return fixed(measured.chattering.length, 0);
    case "stale":
      return fixed(measured.stale.length, 0);
    case "high-share":
      return `${fixed(measured.priorityShare.high * 100, 0)} %`;
  }
}

type Rested = Pick<AlarmMeasures, "days" | "raised" | "standing">;

const spanRest = (measured: Rested): Rest => {
  const days = String(Math.round(measured.days));
  return [
    text.measures.span,
    days in text.measures.spans ? text.measures.spans[days as "1"] : days,
  ];
};

/** From what a measure was worked out: the time and how many rang, or how many stand. */
function restsOf(measured: Rested, key: Key): Rest[] {
  const words = text.measures;
  if (key === "stale") return [[words.labels.standing, fixed(measured.standing, 0)]];
  return [spanRest(measured), [words.labels.rang, fixed(measured.raised, 0)]];
}

function Places(props: {
  figure: PageFigure;
  title: string;
  places: { station: string | null; condition: string; note: string }[];
}) {
  if (props.places.length === 0) return null;
  return (
    <div>
      <h3>{props.title}</h3>
      <ul class="place-list">
        {props.places.map(({ station, condition, note }) => (
          <li key={`${station} ${condition}`}>
            {placeName(station)}: {conditionTitle(condition)}{" "}
            <Explained figure={props.figure} label={props.title}>
              <small>{note}</small>
            </Explained>
          </li>
        ))}
      </ul>
    </div>
  );
}
