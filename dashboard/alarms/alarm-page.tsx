import type { AlarmConditionView, AlarmDetail } from "@leeward/shared-core/api/alarm-facts.ts";
import type { AlarmView } from "@leeward/shared-core/api/alarms.ts";
import { useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { alarmNews } from "../api/store.ts";
import { alarmsWords as text } from "../language/alarms-words.ts";
import { words } from "../language/words.ts";
import { OldNote } from "../shell/old-note.tsx";
import { keepName, recallName } from "../shell/person.ts";
import { ProblemNote } from "../shell/problem-note.tsx";
import { useKept } from "../shell/use-kept.ts";
import { AlarmCard } from "./alarm-card.tsx";
import { act, type Contact, getAlarm } from "./alarms-api.ts";
import { actsFor } from "./groups.ts";
import { JournalList } from "./journal-list.tsx";

const POLL_MS = 4000;

/** The alarm that a message links to: what it says, and one tap to say that one has seen it. */
export function AlarmPage(props: {
  id: string;
  conditions: ReadonlyMap<string, AlarmConditionView>;
  contacts: readonly Contact[];
}) {
  const { id } = props;
  const [turn, setTurn] = useState(0);
  const news = alarmNews.value;
  const { value, cameS, old, answer } = useKept<AlarmDetail>({
    // The last one that was looked at is kept, no more.
    page: "alarm",
    ask: () => getAlarm(id),
    fits: (kept): kept is AlarmDetail => (kept as AlarmDetail | null)?.alarm?.id === id,
    everyMs: POLL_MS,
    again: `${id} ${turn} ${news}`,
  });
  const back = (
    <a class="back" href="#/alarms">
      <span aria-hidden="true">‹ </span>
      {text.all}
    </a>
  );
  const missing = answer !== null && !answer.ok && answer.status === 404;
  if (value?.alarm.id !== id || missing) {
    return (
      <>
        <h1 class="page-title">{missing ? text.missing : text.title}</h1>
        {missing && <p>{text.missingNote}</p>}
        {answer === null && <p class="empty">{words.state.loadingPage}</p>}
        {!missing && <ProblemNote answer={answer} />}
        {back}
      </>
    );
  }
  const { alarm, journal } = value;
  const names = quickNames(alarm, props.contacts);
  const again = () => setTurn((before) => before + 1);
  return (
    <>
      <h1 class="page-title">
        {text.states[alarm.state].title} <small>{text.states[alarm.state].standard}</small>
      </h1>
      {old && <OldNote cameS={cameS} />}
      {alarm.state === "normal" && <p class="noted">{text.detailOver}</p>}
      <AlarmCard
        alarm={alarm}
        facts={props.conditions.get(alarm.condition)}
        contacts={props.contacts}
        alone
        quick={names.length > 0}
        onChange={again}
      >
        <QuickSeen alarm={alarm} names={names} onDone={again} />
      </AlarmCard>
      {back}
      <section class="card">
        <h2 class="card-title">{text.journal.title}</h2>
        <JournalList entries={journal} />
      </section>
    </>
  );
}

/** The person of this device and those who hear of alarms, where there is something to be seen. */
function quickNames(alarm: AlarmView, contacts: readonly Contact[]): string[] {
  if (!actsFor(alarm).includes("seen")) return [];
  return [...new Set([recallName(), ...contacts.map(({ name }) => name)])].filter(Boolean);
}

/** One tap, no typing. */
function QuickSeen(props: { alarm: AlarmView; names: readonly string[]; onDone: () => void }) {
  const [failed, setFailed] = useState<Answer<AlarmView> | null>(null);
  const send = async (by: string) => {
    const answer = await act(props.alarm.id, { kind: "acknowledge", by, note: "" });
    if (!answer.ok) {
      setFailed(answer);
      return;
    }
    keepName(by);
    props.onDone();
  };
  return (
    <>
      {props.names.map((name) => (
        <button
          key={name}
          type="button"
          class="button button-glove button-strong"
          data-quick={name}
          onClick={() => void send(name)}
        >
          {text.quick(name)}
        </button>
      ))}
      <ProblemNote answer={failed} />
    </>
  );
}
