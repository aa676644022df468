import { findCondition } from "@leeward/shared-core/alarms/index.ts";
import type { Occurrence } from "../alarms/states.ts";
import { clockText, quietUntil } from "./local-time.ts";
import type { Message, NewOutboxRow } from "./outbox.ts";
import type { Contact, NotifySettings } from "./settings.ts";

/** What the plan needs to know of a station. */
export interface StationFacts {
  name: string;
  node: string | null;
}

export interface PlanContext {
  settings: NotifySettings;
  timeZone: string;
  station: (site: string, station: string) => StationFacts;
}

/** A lock screen shows about this much of one line. */
const lineLimit = 160;
/** Equipment that comes back by itself within this time sends no message, s. */
const equipmentGraceS = 20;
const lifetimeS = { high: 86_400, medium: 43_200, low: 43_200 };

/** One line: which station, what, how long there is, what to do. */
export function composeMessage(
  occurrence: Occurrence,
  context: PlanContext,
  nowS: number,
): Message {
  const { site, station } = occurrence;
  const facts = station === null ? null : context.station(site, station);
  const name = facts?.name ?? site;
  const firstStep = occurrence.advice.split(/(?<=[.!?]) /)[0] ?? "";
  const since = clockText(occurrence.since, context.timeZone);
  const base = context.settings.publicUrl;
  return {
    id: `${occurrence.id}~${Math.round(nowS * 1000).toString(36)}`,
    kind: "alarm",
    site,
    station: station === null ? null : `${site}.${station}`,
    occurrence: occurrence.id,
    condition: occurrence.condition,
    priority: occurrence.priority,
    line: shorten(`${name}: ${occurrence.title}. ${firstStep}`),
    body: `${name}: ${occurrence.title}, since ${since}.\n\n${occurrence.advice}`,
    link:
      base === null
        ? null
        : `${base.replace(/\/$/, "")}/alarms/${encodeURIComponent(occurrence.id)}`,
    t: nowS,
    node: facts?.node ?? null,
  };
}

function shorten(line: string): string {
  const text = line.replace(/\s+/g, " ").trim();
  return text.length <= lineLimit ? text : `${text.slice(0, lineLimit - 1).trimEnd()}…`;
}

/** True for alarms that ring at night too. */
export function ignoresQuietHours(condition: string): boolean {
  return condition === "arc-without-gas" || findCondition(condition)?.alarmClass === "safety";
}

/**
 * Every message of one ring, escalation included: a later step is stored at once with its time and
 * taken back when somebody acknowledges. What no chain takes waits for the digest.
 */
export function planAlarm(
  occurrence: Occurrence,
  context: PlanContext,
  nowS: number,
): NewOutboxRow[] {
  // A message that nobody can be reached would only join those that wait.
  if (occurrence.condition === "nobody-reachable") return [];
  const { settings, timeZone } = context;
  const stationId = occurrence.station === null ? null : `${occurrence.site}.${occurrence.station}`;
  const chain = settings.chains.find(
    (one) =>
      one.priorities.includes(occurrence.priority) &&
      (one.stations === undefined || (stationId !== null && one.stations.includes(stationId))),
  );
  if (!chain) return [];
  const message = composeMessage(occurrence, context, nowS);
  const quiet = ignoresQuietHours(occurrence.condition)
    ? null
    : quietUntil(nowS, settings.quietHours, timeZone);
  const equipment = findCondition(occurrence.condition)?.alarmClass === "equipment";
  const start = Math.max(nowS + (equipment ? equipmentGraceS : 0), quiet ?? 0);
  return chain.steps.flatMap((step, i) =>
    contactsOf(settings, step.contacts).flatMap((contact) =>
      rowsTo(contact, message, { tag: String(i), nowS, due: start + step.afterS }),
    ),
  );
}

/** The rows that bring one message to one contact on all its ways. */
export function rowsTo(
  contact: Contact,
  message: Message,
  when: { tag: string; nowS: number; due: number },
): NewOutboxRow[] {
  return contact.ways
    .filter((way) => way.kind !== "node" || message.node !== null)
    .map((way, i) => ({
      id: `${message.id}~${when.tag}~${contact.id}~${i}`,
      occurrence: message.occurrence,
      kind: message.kind,
      contact: contact.id,
      way,
      message,
      created: when.nowS,
      due: when.due,
      expires: when.due + lifetimeS[message.priority],
    }));
}

export function contactsOf(settings: NotifySettings, ids: readonly string[]): Contact[] {
  return settings.contacts.filter((contact) => ids.includes(contact.id));
}
