import type { AlarmConditionView } from "@leeward/shared-core/api/alarm-facts.ts";
import type { AlarmView, AlarmList as Listed } from "@leeward/shared-core/api/alarms.ts";
import { computed } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";
import { getAlarms } from "../api/client.ts";
import { alarmNews, stations } from "../api/store.ts";
import type { Ranked } from "../display/order.ts";
import { alarmsWords as text } from "../language/alarms-words.ts";
import { words } from "../language/words.ts";
import { Header } from "../shell/header.tsx";
import { Nav } from "../shell/nav.tsx";
import { OldNote } from "../shell/old-note.tsx";
import { useKept } from "../shell/use-kept.ts";
import { AlarmCard } from "./alarm-card.tsx";
import { AlarmPage } from "./alarm-page.tsx";
import "../style/pages.css";
import "./alarms.css";
import { type Contact, getConditions, getDelivery } from "./alarms-api.ts";
import { DeliveryCard } from "./delivery-card.tsx";
import { alarmOrder, groupAlarms } from "./groups.ts";
import { JournalCard } from "./journal-card.tsx";
import { MeasuresCard } from "./measures-card.tsx";
import { PutAwayList } from "./put-away-list.tsx";

const POLL_MS = 4000;

/** Which alarms the stations' live news tell of. */
const liveAlarms = computed(() =>
  [...stations.value.values()]
    .flatMap((view) => view.estimate?.alarms.map((one) => `${view.id} ${one.condition}`) ?? [])
    .join("|"),
);

/** Every alarm by its state, the neediest first, or the one that a message links to. */
export function Alarms({ id }: { id: string | null }) {
  const [conditions, setConditions] = useState<ReadonlyMap<string, AlarmConditionView>>(new Map());
  const [contacts, setContacts] = useState<readonly Contact[] | null>(null);
  useEffect(() => {
    document.title = `${text.title} · ${words.productName}`;
    void getConditions().then((answer) => {
      if (!answer.ok) return;
      setConditions(new Map(answer.value.conditions.map((one) => [one.condition, one])));
    });
    void getDelivery().then((answer) => {
      if (answer.ok) setContacts(answer.value.settings.contacts);
    });
    return () => {
      document.title = words.productName;
    };
  }, []);
  return (
    <>
      <Header>
        <span class="product">{words.productName}</span>
        <Nav here="alarms" />
      </Header>
      <main id="content" class="alarms" tabIndex={-1}>
        {id === null ? (
          <AlarmList conditions={conditions} contacts={contacts} />
        ) : (
          <AlarmPage id={id} conditions={conditions} contacts={contacts ?? []} />
        )}
        <p class="card-small">{text.monitor}</p>
      </main>
    </>
  );
}

function AlarmList(props: {
  conditions: ReadonlyMap<string, AlarmConditionView>;
  contacts: readonly Contact[] | null;
}) {
  const { conditions, contacts } = props;
  const { alarms, putAway, cameS, failed, replace, take } = useAlarms();
  const order = useRef<Ranked[]>([]);
  order.current = alarmOrder(order.current, alarms ?? []);
  const groups = groupAlarms(alarms ?? [], order.current);
  return (
    <>
      <h1 class="page-title">{text.title}</h1>
      {failed && alarms === null && (
        <p class="caution" role="status">
          {text.neverFetched}
        </p>
      )}
      {failed && <OldNote cameS={cameS} />}
      {alarms === null && !failed && <p class="empty">{words.state.loadingPage}</p>}
      {/* An empty list of before is no good news while none can be fetched. */}
      {alarms?.length === 0 && !failed && (
        <p class="empty">
          <strong>{text.none}</strong> {text.noneNote}
        </p>
      )}
      {groups.map((group) => (
        <section key={group.state} class="alarm-group" data-group={group.state}>
          <h2 class="alarm-group-title">
            {text.states[group.state].title}{" "}
            <small>{`${text.states[group.state].standard} (${group.alarms.length})`}</small>
          </h2>
          {group.alarms.map((alarm) => (
            <AlarmCard
              key={alarm.id}
              alarm={alarm}
              facts={conditions.get(alarm.condition)}
              contacts={contacts ?? []}
              onChange={replace}
            />
          ))}
        </section>
      ))}
      <PutAwayList entries={putAway} contacts={contacts ?? []} onChange={take} />
      <DeliveryCard
        contacts={contacts}
        unreachable={(alarms ?? []).some((one) => one.condition === "nobody-reachable")}
      />
      <MeasuresCard />
      <JournalCard />
    </>
  );
}

/** The list, asked for anew when alarms change, or somebody did something to one, and every few seconds. */
function useAlarms() {
  const { value, cameS, old, take } = useKept<Kept>({
    page: "alarms",
    ask: getAlarms,
    fits: isAlarmList,
    everyMs: POLL_MS,
    again: `${liveAlarms.value} ${alarmNews.value}`,
  });
  const alarms = value?.alarms ?? null;
  const putAway = value?.putAway ?? [];
  const replace = (alarm: AlarmView) => {
    take({
      putAway,
      alarms: (alarms ?? [])
        .map((one) => (one.id === alarm.id ? alarm : one))
        .filter((one) => one.state !== "normal"),
    });
  };
  return { alarms, putAway, cameS, failed: old, replace, take };
}

/** The list; one that an earlier version kept on this device tells nothing of what is put away. */
type Kept = Pick<Listed, "alarms"> & Partial<Listed>;

/** Whether what this device kept is a list of alarms as it is shown here. */
function isAlarmList(kept: unknown): kept is Kept {
  return Array.isArray((kept as { alarms?: unknown } | null)?.alarms);
}
