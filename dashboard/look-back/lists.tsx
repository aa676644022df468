import type { LookBack as Report } from "@leeward/shared-core/api/look-back.ts";
import type { PersonEntry } from "@leeward/shared-core/estimation/engine.ts";
import { alarmText } from "../display/alarm-text.ts";
import { fixed, volumeText } from "../display/numbers.ts";
import type { PageFigure } from "../display/page-figures.ts";
import { alarmHref } from "../display/route.ts";
import { urgencyOf } from "../display/urgency.ts";
import { lookBackWords as text } from "../language/look-back-words.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { Explained } from "../shell/explain.tsx";
import { UrgencySign } from "../signs/urgency-sign.tsx";
import { nothingRecorded } from "./verdict.ts";

/** Rows that fit beside the rest on one printed sheet. */
const MOST = 10;

type Moment = (t: number) => string;

/** What happened beside gas going on and off. */
export function EventList({ report, moment }: { report: Report; moment: Moment }) {
  const events = report.events.filter(({ kind }) => kind in text.events.kinds);
  const shown = events.slice(0, MOST);
  return (
    <section class="card" aria-labelledby="events-title">
      <h3 id="events-title">{text.events.title}</h3>
      {events.length === 0 && (
        <p class="quiet">{nothingRecorded(report) ? text.chart.empty : text.events.none}</p>
      )}
      <ol class="look-list">
        {shown.map((event, index) => (
          <li key={`${event.t} ${event.kind} ${index}`} data-event={event.kind}>
            <span>{moment(event.t)}</span>
            <span>
              {text.events.kinds[kindOf(event)]}
              <Note event={event} moment={moment} />
            </span>
          </li>
        ))}
      </ol>
      {events.length > MOST && <p class="quiet">{text.events.more(events.length - MOST)}</p>}
    </section>
  );
}

/** Events of which a figure is shown, and what explains it. */
const figuresOf: Readonly<Record<string, PageFigure>> = {
  swap: "record-swaps",
  "re-dial": "record-re-dials",
};

function Note({ event, moment }: { event: Report["events"][number]; moment: Moment }) {
  const note = noteOf(event, moment);
  if (!note) return null;
  const figure = figuresOf[event.kind];
  return (
    <small>
      {" "}
      {figure === undefined ? (
        note
      ) : (
        <Explained figure={figure} label={text.events.kinds[event.kind] ?? note}>
          {note}
        </Explained>
      )}
    </small>
  );
}

/** A claim that is taken back is told in words of its own. */
function kindOf({ kind, detail }: Report["events"][number]): string {
  return kind === "gas-claimed" && detail.release === true ? "gas-released" : kind;
}

/** What is worth saying of an event, in units and words. */
function noteOf({ kind, detail }: Report["events"][number], moment: Moment): string {
  if (kind === "swap" && typeof detail.litres === "number") {
    return text.events.litres(volumeText(detail.litres, units.value));
  }
  if (kind === "re-dial" && typeof detail.ratio === "number") {
    return text.events.ratio(fixed(detail.ratio * 100, 0));
  }
  if (kind === "person-reading" && typeof detail.reading === "number") {
    return [fixed(detail.reading, 1), detail.unit].filter(Boolean).join(" ");
  }
  if (kind === "person-swap") {
    const { lot } = (detail.swap ?? {}) as { lot?: string };
    return lot ? text.lot(lot) : "";
  }
  if (kind === "person-job") {
    const { end, job, welder, procedure } = detail.job as NonNullable<PersonEntry["job"]>;
    return end ? text.events.ended : [job, welder, procedure?.wps].filter(Boolean).join(", ");
  }
  if (kind === "gas-claimed") {
    // It may be about other gas than this sheet's.
    const about = text.alarms.span(moment(Number(detail.from)), moment(Number(detail.to)));
    return [detail.job, detail.welder, about].filter(Boolean).join(", ");
  }
  if (kind === "person-leakTest") {
    return (detail.leakTest as { end?: boolean }).end ? text.events.ended : "";
  }
  if (kind === "person-purge") {
    return (detail.purge as { end?: boolean }).end ? text.events.ended : "";
  }
  if (kind === "node-changed") {
    return text.events.nodes(detail.before as string | null, detail.now as string | null);
  }
  return [detail.channel, detail.fault].filter(Boolean).join(" ");
}

/** Alarms that held at some time of the span. */
export function AlarmList({ report, moment }: { report: Report; moment: Moment }) {
  const { alarms } = report;
  return (
    <section class="card" aria-labelledby="look-alarms-title">
      <h3 id="look-alarms-title">{text.alarms.title}</h3>
      {alarms.length === 0 && (
        <p class="quiet">{nothingRecorded(report) ? text.chart.empty : text.alarms.none}</p>
      )}
      <ol class="look-list look-alarms">
        {alarms.slice(0, MOST).map((alarm) => (
          <li key={alarm.id} data-condition={alarm.condition}>
            <UrgencySign urgency={urgencyOf(alarm)} />
            <span>
              <span class="visually-hidden">{words.urgency[urgencyOf(alarm)]}: </span>
              <a href={alarmHref(alarm.id)}>{alarmText(alarm, units.value).title}</a>{" "}
              <small>
                {alarm.cleared === null
                  ? text.alarms.still(moment(alarm.since))
                  : text.alarms.span(moment(alarm.since), moment(alarm.cleared))}
                {alarm.acknowledgedBy && `, ${text.alarms.seen(alarm.acknowledgedBy)}`}
              </small>
            </span>
          </li>
        ))}
      </ol>
      {alarms.length > MOST && <p class="quiet">{text.events.more(alarms.length - MOST)}</p>}
    </section>
  );
}
