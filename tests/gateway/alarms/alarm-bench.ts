import type { ActiveAlarm } from "@leeward/shared-core/estimation/estimate.ts";
import { AlarmLifeCycle } from "../../../gateway/alarms/life-cycle.ts";
import type { Occurrence } from "../../../gateway/alarms/states.ts";
import type { NewOutboxRow } from "../../../gateway/notify/outbox.ts";
import { openSqliteStore } from "../../../gateway/store/open-sqlite.ts";
import { t0, whenOver } from "../support.ts";

/** An alarm as a line carries it. */
export function alarm(condition: string, change: Partial<ActiveAlarm> = {}): ActiveAlarm {
  return {
    condition,
    priority: "high",
    since: t0 - 10,
    title: `Title of ${condition}`,
    advice: "Do this. Then that.",
    ...change,
  };
}

/** A message as a plan makes it. */
export function row(occurrence: Occurrence, nowS: number, due = nowS): NewOutboxRow {
  return {
    id: `${occurrence.id}~${nowS}~${due}`,
    occurrence: occurrence.id,
    kind: "alarm",
    contact: "foreman",
    way: { kind: "email", to: "foreman@boatyard.example" },
    message: {
      id: `${occurrence.id}~${nowS}`,
      kind: "alarm",
      site: occurrence.site,
      station: null,
      occurrence: occurrence.id,
      condition: occurrence.condition,
      priority: occurrence.priority,
      line: occurrence.title,
      body: occurrence.advice,
      link: null,
      t: nowS,
      node: null,
    },
    created: nowS,
    due,
    expires: nowS + 86_400,
  };
}

/** A life cycle over a store file; `rings` lists what rang. */
export async function openLifeCycle(
  file: string,
  supplyOf: (id: string) => string | null = () => null,
) {
  const store = await openSqliteStore(file);
  let open = true;
  const close = async () => {
    if (open) await store.close();
    open = false;
  };
  whenOver(close);
  const rings: { condition: string; station: string | null; t: number }[] = [];
  const planned = new Set<string>();
  const errors: unknown[] = [];
  const lifeCycle = new AlarmLifeCycle({
    store: store.alarms,
    plan: (occurrence, rangS) => {
      // The same ring planned again is no new one.
      const ring = `${occurrence.condition} ${occurrence.station} ${rangS}`;
      if (!planned.has(ring)) {
        rings.push({ condition: occurrence.condition, station: occurrence.station, t: rangS });
      }
      planned.add(ring);
      return [row(occurrence, rangS), row(occurrence, rangS, rangS + 300)];
    },
    onWritten: () => undefined,
    onError: (error) => errors.push(error),
    supplyOf,
  });
  await lifeCycle.load();
  return { store, lifeCycle, rings, errors, close };
}
