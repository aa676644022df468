import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { nowS, timeZone } from "../api/store.ts";
import { splitAdvice, together } from "../display/advice.ts";
import { alarmText, dialledNow } from "../display/alarm-text.ts";
import { momentInWords } from "../display/durations.ts";
import type { Sentence } from "../display/sentence.ts";
import { mostUrgentFirst, urgencyOf } from "../display/urgency.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { UrgencySign } from "../signs/urgency-sign.tsx";
import { Seen } from "./seen.tsx";

/** The one sentence, readable from three metres, and below it whatever else stands. */
export function AlarmBand(props: { view: StationView; sentence: Sentence; faded: boolean }) {
  const { view, sentence, faded } = props;
  const { urgency, since } = sentence;
  const advice = splitAdvice(sentence.advice);
  const condition = mostUrgentFirst(view.estimate?.alarms ?? [])[0]?.condition;
  const further = mostUrgentFirst(view.estimate?.alarms ?? []).slice(1);
  const when = (t: number) => words.sentence.since(momentInWords(t, nowS.value, timeZone.value));
  return (
    <section
      class={`band ${urgency ? `band-${urgency}` : "band-quiet"}${faded ? " band-faded" : ""}`}
      aria-live={faded ? "off" : "polite"}
    >
      {urgency && (
        <span class="band-urgency">
          <UrgencySign urgency={urgency} />
          <span class="band-word">{words.urgency[urgency]}</span>
        </span>
      )}
      <p class="band-text" data-field="sentence">
        <strong>{together(sentence.title)}</strong> {together(advice.first)}
        {sentence.setupHref && (
          <>
            {" "}
            <a href={sentence.setupHref}>{words.sentence.toSetup}</a>
          </>
        )}
      </p>
      {since !== null && (
        <div class="band-since">
          <span>{when(since)}</span>
          {condition && !faded && <Seen view={view} condition={condition} />}
        </div>
      )}
      {advice.rest !== "" && <p class="band-rest">{advice.rest}</p>}
      {further.length > 0 && (
        <ul class="band-further">
          {further
            .map((alarm) => ({
              alarm,
              text: alarmText(
                dialledNow(alarm, view.estimate?.dialTo, view.description),
                units.value,
              ),
            }))
            .map(({ alarm, text }) => (
              <li key={alarm.condition} class={`further-${urgencyOf(alarm)}`}>
                <UrgencySign urgency={urgencyOf(alarm)} />
                <span>
                  <strong>{text.title}</strong> {text.advice} <small>{when(alarm.since)}</small>
                </span>
              </li>
            ))}
        </ul>
      )}
    </section>
  );
}
