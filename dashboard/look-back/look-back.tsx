import type { LookBack as Report } from "@leeward/shared-core/api/look-back.ts";
import type { History, HistorySeriesName } from "@leeward/shared-core/api/stations.ts";
import type { JobSpan } from "@leeward/shared-core/record/jobs.ts";
import { startOf, stepFrom } from "@leeward/shared-core/time/zone.ts";
import { useEffect, useState } from "preact/hooks";
import { type Answer, getHistory } from "../api/client.ts";
import { nowS, orderedStations, shop, timeZone } from "../api/store.ts";
import { momentInWords } from "../display/durations.ts";
import { lookBackHref } from "../display/route.ts";
import { lookBackWords as text } from "../language/look-back-words.ts";
import { words } from "../language/words.ts";
import { SelectField } from "../shell/fields.tsx";
import { Header } from "../shell/header.tsx";
import { Nav } from "../shell/nav.tsx";
import { ProblemNote } from "../shell/problem-note.tsx";
import {
  type ExactSpan,
  exactText,
  SpanFields,
  type SpanText,
  spanOf,
  spanText,
} from "../shell/span-fields.tsx";
import "../style/pages.css";
import "./look-back.css";
import { lastGasSpan, nearestGasSpan } from "./last-gas.ts";
import { getJobs, getLookBack } from "./look-back-api.ts";
import { Sheet } from "./sheet.tsx";

const POINTS = 1200;
/** What the chart draws. */
const DRAWN: readonly HistorySeriesName[] = [
  "flow",
  "flow-low",
  "flow-high",
  "cylinder-pressure",
  "regulator-temperature",
];
const HOUR_S = 3600;
const WEEK_S = 7 * 24 * HOUR_S;
/** Ten minutes each: fine enough to find the last gas by. */
const WEEK_STEPS = 1008;
const WEEK_STEP_S = WEEK_S / WEEK_STEPS;

/** Unix s, the end not counted. */
export interface LookBackProps {
  id: string | null;
  from: number | null;
  to: number | null;
}

/** What the gas did at a station and time of one's choice, on one sheet. */
export function LookBack(props: LookBackProps) {
  useEffect(() => {
    document.title = `${text.title} · ${words.productName}`;
    return () => {
      document.title = words.productName;
    };
  }, []);
  return (
    <>
      <Header>
        <span class="product">{words.productName}</span>
        <Nav here="look-back" />
      </Header>
      <main id="content" class="look-back pages-explained" tabIndex={-1}>
        <h1 class="page-title no-print">{text.title}</h1>
        {shop.value ? <Picked {...props} /> : <p class="empty">{words.state.loading}</p>}
      </main>
    </>
  );
}

function Picked(props: LookBackProps) {
  const zone = timeZone.value;
  const list = orderedStations.value;
  const [id, setId] = useState(props.id ?? list[0]?.id ?? "");
  const given = props.from !== null && props.to !== null && props.from < props.to;
  const [span, setSpan] = useState<SpanText>(() => {
    const to = props.to ?? nowS.peek();
    return given
      ? exactText({ from: props.from as number, to }, zone)
      : spanText(props.from ?? to - HOUR_S, to, zone);
  });
  // A job begins and ends at its second: a minute more would take in its neighbour's gas.
  const [exact, setExact] = useState<ExactSpan | null>(() =>
    given ? { from: props.from as number, to: props.to as number } : null,
  );
  const week = useWeek(id);
  const lastGas = week?.lastGas;
  // Until somebody chooses a time it is that of the station's last gas.
  const [asked, setAsked] = useState(props.from !== null || props.to !== null);
  useEffect(() => {
    if (!asked && lastGas) setSpan(spanText(lastGas.from, lastGas.to, zone));
  }, [lastGas]);
  const [jobs, setJobs] = useState<JobSpan[]>([]);
  const [job, setJob] = useState("");
  // Counts what was claimed or taken back here: the list of jobs is another then.
  const [claims, setClaims] = useState(0);
  const chosen = exact ?? spanOf(span, zone);
  const waiting = !asked && lastGas === undefined;
  useEffect(() => {
    void getJobs(id).then((answer) => setJobs(answer.ok ? answer.value.jobs : []));
  }, [id, claims]);
  useEffect(() => {
    if (id === "" || !chosen || waiting) return;
    // The address can be passed on; no new page is entered for it.
    history.replaceState(null, "", lookBackHref(id, chosen.from, chosen.to));
  }, [id, chosen?.from, chosen?.to, waiting]);
  const choose = (next: SpanText) => {
    setSpan(next);
    setExact(null);
    setAsked(true);
  };
  const chooseExactly = (next: ExactSpan) => {
    choose(exactText(next, zone));
    setExact(next);
  };
  const pick = (from: number, to: number) => {
    choose(spanText(from, to, zone));
    setJob("");
  };
  const now = nowS.value;
  const today = startOf(now, "day", zone);
  const quick = [
    ...(lastGas ? [{ name: text.quick.lastGas, ...lastGas }] : []),
    { name: text.quick.hour, from: now - HOUR_S, to: now },
    { name: text.quick.shift, from: now - 8 * HOUR_S, to: now },
    { name: text.quick.today, from: today, to: now },
    { name: text.quick.yesterday, from: stepFrom(now, "day", -1, zone), to: today - 60 },
  ];
  const moment = (t: number) => momentInWords(t, now, zone);
  const nearest = chosen && week?.history ? nearestGasSpan(week.history, chosen, week, now) : null;
  return (
    <>
      <section class="card look-pick no-print">
        <p class="quiet">{text.intro}</p>
        <div class="fields">
          <SelectField
            label={text.station}
            value={id}
            options={list.map((view) => ({ value: view.id, text: view.name }))}
            onChange={(value) => {
              setId(value);
              setJob("");
            }}
          />
          {jobs.length > 0 && (
            <SelectField
              label={text.job}
              value={job}
              options={[
                { value: "", text: text.noJob },
                ...jobs.map((one) => ({
                  value: String(one.from),
                  text: text.jobOption(
                    one.job ?? text.unnamedJob,
                    moment(one.from),
                    one.to === null ? text.now : moment(one.to),
                  ),
                })),
              ]}
              onChange={(value) => {
                setJob(value);
                const found = jobs.find((one) => String(one.from) === value);
                if (found)
                  chooseExactly({ from: found.from, to: found.to ?? Math.floor(nowS.peek()) });
              }}
            />
          )}
        </div>
        <fieldset class="look-quick">
          <legend class="visually-hidden">{text.when}</legend>
          {quick.map(({ name, from, to }) => (
            <button
              key={name}
              type="button"
              class="button button-glove"
              onClick={() => pick(from, to)}
            >
              {name}
            </button>
          ))}
        </fieldset>
        <SpanFields
          value={span}
          onChange={(next) => {
            choose(next);
            setJob("");
          }}
        />
        {!chosen && (
          <p class="problem" role="alert">
            {text.badSpan}
          </p>
        )}
      </section>
      {nearest && (
        <div class="noted look-nearest no-print" data-field="nearest-gas">
          <p>{text.noGasThen}</p>
          <button
            type="button"
            class="button button-glove"
            onClick={() => pick(nearest.from, nearest.to)}
          >
            {text.nearestGas(moment(nearest.from), moment(nearest.to))}
          </button>
        </div>
      )}
      {waiting && (
        <p class="empty" role="status">
          {text.fetching}
        </p>
      )}
      {id !== "" && chosen && !waiting && (
        <Fetched
          key={`${id} ${chosen.from} ${chosen.to}`}
          id={id}
          from={chosen.from}
          to={chosen.to}
          onClaimed={() => setClaims((before) => before + 1)}
        />
      )}
    </>
  );
}

/** A station's last week of flow and when gas last flowed in it; undefined until that is known. */
function useWeek(id: string) {
  const [found, setFound] = useState<{
    id: string;
    sinceS: number;
    bucketS: number;
    history: History | null;
    lastGas: ReturnType<typeof lastGasSpan>;
  }>();
  useEffect(() => {
    if (id === "") return;
    let stopped = false;
    const now = nowS.peek();
    void getHistory(id, now - WEEK_S, now, WEEK_STEPS, ["flow"]).then((answer) => {
      if (stopped) return;
      const history = answer.ok ? answer.value : null;
      setFound({
        id,
        sinceS: now - WEEK_S,
        bucketS: WEEK_STEP_S,
        history,
        lastGas: history && lastGasSpan(history, WEEK_STEP_S, now),
      });
    });
    return () => {
      stopped = true;
    };
  }, [id]);
  return found?.id === id ? found : undefined;
}

function Fetched(props: ExactSpan & { id: string; onClaimed: () => void }) {
  const { id, from, to } = props;
  const [answer, setAnswer] = useState<Answer<Report> | null>(null);
  const [history, setHistory] = useState<History | null>(null);
  const [round, setRound] = useState(0);
  useEffect(() => {
    let stopped = false;
    void getLookBack(id, from, to).then(async (found) => {
      if (stopped) return;
      setAnswer(found);
      if (!found.ok) return;
      const drawn = await getHistory(id, found.value.from, found.value.to, POINTS, DRAWN);
      if (!stopped && drawn.ok) setHistory(drawn.value);
    });
    return () => {
      stopped = true;
    };
  }, [round]);
  if (!answer) {
    return (
      <p class="empty" role="status">
        {text.fetching}
      </p>
    );
  }
  if (!answer.ok) return <ProblemNote answer={answer} />;
  return (
    <Sheet
      report={answer.value}
      history={history}
      onClaimed={() => {
        setRound((before) => before + 1);
        props.onClaimed();
      }}
    />
  );
}
