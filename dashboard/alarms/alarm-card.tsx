import type { AlarmConditionView } from "@leeward/shared-core/api/alarm-facts.ts";
import type { AlarmView } from "@leeward/shared-core/api/alarms.ts";
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { nowS, stationOf, timeZone } from "../api/store.ts";
import { alarmText, conditionTitle } from "../display/alarm-text.ts";
import { ageInWords, momentInWords } from "../display/durations.ts";
import { flowsInRule } from "../display/flows-in-text.ts";
import { alarmHref, stationHref } from "../display/route.ts";
import { urgencyOf } from "../display/urgency.ts";
import { alarmsWords as text } from "../language/alarms-words.ts";
import { conditionWords } from "../language/condition-words.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { freshnessOf } from "../shell/view-state.ts";
import { UrgencySign } from "../signs/urgency-sign.tsx";
import { ActDialog, type ActKind } from "./act-dialog.tsx";
import type { Contact } from "./alarms-api.ts";
import { actsFor } from "./groups.ts";

/** A moment of the API as the page says it. */
export function when(iso: string): string {
  return momentInWords(Date.parse(iso) / 1000, nowS.value, timeZone.value);
}

/** What people call a station, or that it is about the whole shop. */
export function placeName(station: string | null): string {
  if (station === null) return text.wholeShop;
  return stationOf(station)?.name ?? station;
}

/** One alarm: where, what, what to do; its state, and what can be done about it. */
export function AlarmCard(props: {
  alarm: AlarmView;
  facts: AlarmConditionView | undefined;
  contacts: readonly Contact[];
  /** The page of this one alarm: everything open, no link to itself. */
  alone?: boolean;
  /** Names that say by one tap that they have seen it stand there already. */
  quick?: boolean;
  children?: ComponentChildren;
  onChange: (alarm: AlarmView) => void;
}) {
  const { alarm, facts, alone } = props;
  const [acting, setActing] = useState<ActKind | null>(null);
  const urgency = urgencyOf(alarm);
  const said = alarmText(alarm, units.value);
  const reason = facts && { ...facts, ...conditionWords[facts.condition] };
  const loud = alarm.active && !alarm.shelf && alarm.suppressedBy === null;
  return (
    <article
      class={`alarm ${loud ? `alarm-${urgency}` : "alarm-quiet"}`}
      aria-label={said.title}
      data-alarm={alarm.id}
      data-condition={alarm.condition}
      data-state={alarm.state}
    >
      <span class="alarm-urgency">
        <UrgencySign urgency={urgency} />
        <span>{words.urgency[urgency]}</span>
      </span>
      <div class="alarm-text">
        <p class="alarm-place">
          {alarm.station === null ? (
            text.wholeShop
          ) : (
            <a href={stationHref(alarm.station)}>{placeName(alarm.station)}</a>
          )}
        </p>
        {alone ? (
          <h2 class="alarm-title">{said.title}</h2>
        ) : (
          <h3 class="alarm-title">
            <a href={alarmHref(alarm.id)}>{said.title}</a>
          </h3>
        )}
        {/* What has gone asks for nothing but to be seen; its own page keeps what it asked for. */}
        {(alone || alarm.state !== "returned-unacknowledged") && (
          <p class="alarm-advice">{said.advice}</p>
        )}
        <p class="alarm-facts">
          {factsOf(alarm).map((fact) => (
            <span key={fact}>{fact}</span>
          ))}
          {loud && reason && <span>{text.respond(reason.timeToRespond)}</span>}
        </p>
      </div>
      <div class="alarm-acts">
        {props.children}
        {actsFor(alarm).map((kind) => (
          <button
            key={kind}
            type="button"
            class={`button button-glove${(kind === "seen" && !props.quick) || kind === "looked" ? " button-strong" : ""}`}
            onClick={() => setActing(kind)}
          >
            {kind === "seen" && props.quick ? text.quickOther : text.acts[kind]}
            <span class="visually-hidden">: {said.title}</span>
          </button>
        ))}
      </div>
      {reason && <Rationale facts={reason} open={alone ?? false} />}
      {acting && (
        <ActDialog
          alarm={alarm}
          kind={acting}
          contacts={props.contacts}
          onDone={props.onChange}
          onClose={() => setActing(null)}
        />
      )}
    </article>
  );
}

/** How it stands, in the page's words. */
function factsOf(alarm: AlarmView): string[] {
  const { acknowledged, shelf, suppressedBy, returned } = alarm;
  const facts = [text.since(when(alarm.since))];
  const view = alarm.active && alarm.station !== null ? stationOf(alarm.station) : undefined;
  const age = view && freshnessOf(view);
  // What it says was so then: nothing newer is known.
  if (age?.state === "old" && age.ageS !== null) {
    facts.push(words.sentence.lastKnown(ageInWords(age.ageS)));
  }
  if (!alarm.active && returned) facts.push(text.gone(when(returned)));
  if (acknowledged) {
    facts.push(text.seenBy(acknowledged.by, when(acknowledged.at)));
    if (acknowledged.note) facts.push(text.note(acknowledged.note));
  }
  if (shelf) {
    facts.push(
      shelf.until === null ? text.outBy(shelf.by) : text.awayUntil(shelf.by, when(shelf.until)),
    );
    if (shelf.note) facts.push(text.note(shelf.note));
  }
  if (suppressedBy) facts.push(text.explainedBy(conditionTitle(suppressedBy)));
  return facts;
}

/** Why it is an alarm at all: cause, consequence, action, time. */
function Rationale({ facts, open }: { facts: AlarmConditionView; open: boolean }) {
  const rows = [
    { name: text.cause, value: facts.cause },
    { name: text.consequence, value: facts.consequence },
    { name: text.action, value: facts.operatorAction },
    { name: text.time, value: facts.timeToRespond },
    { name: text.limit, value: facts.limit },
    { name: text.deadband, value: facts.deadband },
    { name: text.delay, value: facts.delayReason },
  ];
  return (
    <details class="alarm-why" open={open}>
      <summary>{text.why}</summary>
      <dl>
        {rows.map(({ name, value }) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{flowsInRule(value, units.value)}</dd>
          </div>
        ))}
      </dl>
    </details>
  );
}
