import { findCondition } from "@leeward/shared-core/alarms/index.ts";
import { alarmLanguages } from "@leeward/shared-core/alarms/language/index.ts";
import type { Language } from "@leeward/shared-core/alarms/language/languages.ts";
import {
  firstSentence,
  metricSayUnits,
  type SayUnits,
  sayAlarm,
} from "@leeward/shared-core/alarms/language/say.ts";
import type { Occurrence } from "../alarms/states.ts";
import { clockText, quietUntil } from "./local-time.ts";
import { lockScreenLine } from "./lock-screen.ts";
import { messageWords } from "./message-words.ts";
import type { Message, NewOutboxRow } from "./outbox.ts";
import type { Contact, NotifySettings } from "./settings.ts";

/** What the plan needs to know of a station. */
export interface StationFacts {
  name: string;
  node: string | null;
  /** Units of the texts about it; metric where left out. */
  units?: SayUnits;
}

export interface PlanContext {
  settings: NotifySettings;
  timeZone: string;
  /** Language of the site; English where left out. */
  language?: Language | undefined;
  station: (site: string, station: string) => StationFacts;
}

/** Equipment that comes back by itself within this time sends no message, s. */
const equipmentGraceS = 20;
const lifetimeS = { high: 86_400, medium: 43_200, low: 43_200 };

/** Title, advice and its first step: in another language than the site's, said anew. */
function textOf(occurrence: Occurrence, context: PlanContext, language: Language, units: SayUnits) {
  const { said, title, advice } = occurrence;
  const anew =
    said !== null && language !== (context.language ?? "en")
      ? sayAlarm(said, alarmLanguages[language], units)
      : null;
  return anew ?? { title, advice, firstStep: firstSentence(advice) };
}

/**
 * One line: which station, what, how long there is, what to do.
 * @param language of the reader; the site's where left out
 * @param held it arrives after quiet hours: the line then says since when it is so
 */
export function composeMessage(
  occurrence: Occurrence,
  context: PlanContext,
  nowS: number,
  language: Language = context.language ?? "en",
  held = false,
): Message {
  const { site, station } = occurrence;
  const facts = station === null ? null : context.station(site, station);
  const name = facts?.name ?? site;
  const { title, advice, firstStep } = textOf(
    occurrence,
    context,
    language,
    facts?.units ?? metricSayUnits,
  );
  const since = messageWords[language].since(clockText(occurrence.since, context.timeZone));
  const base = context.settings.publicUrl;
  return {
    id: `${occurrence.id}~${Math.round(nowS * 1000).toString(36)}`,
    kind: "alarm",
    site,
    station: station === null ? null : `${site}.${station}`,
    occurrence: occurrence.id,
    condition: occurrence.condition,
    priority: occurrence.priority,
    line: lockScreenLine(name, held ? `${title}, ${since}` : title, firstStep),
    body: `${name}: ${title}, ${since}.\n\n${advice}`,
    link:
      base === null
        ? null
        : `${base.replace(/\/$/, "")}/alarms/${encodeURIComponent(occurrence.id)}`,
    t: nowS,
    language,
    node: facts?.node ?? null,
  };
}

/** True for alarms that ring at night too. */
export function ignoresQuietHours(condition: string): boolean {
  return condition === "arc-without-gas" || findCondition(condition)?.alarmClass === "safety";
}

/** The chain that takes an alarm; undefined where it waits for the digest. */
export function chainFor(
  settings: NotifySettings,
  { site, station, priority }: Pick<Occurrence, "site" | "station"> & { priority: string | null },
): NotifySettings["chains"][number] | undefined {
  const id = station === null ? null : `${site}.${station}`;
  return settings.chains.find(
    (one) =>
      (one.priorities as string[]).includes(priority ?? "") &&
      (one.stations === undefined || (id !== null && one.stations.includes(id))),
  );
}

/**
 * Every message of one ring, escalation included: a later step is stored at once with its time and
 * taken back when somebody acknowledges. What no chain takes waits for the digest. Quiet hours hold
 * each step for itself.
 *
 * @param rangS when it rang: ids and times follow from it, so that the same ring planned again is the same
 * @param nowS when it is planned, not before `rangS`
 */
export function planAlarm(
  occurrence: Occurrence,
  context: PlanContext,
  rangS: number,
  nowS = rangS,
): NewOutboxRow[] {
  // A message that nobody can be reached would only join those that wait.
  if (occurrence.condition === "nobody-reachable") return [];
  const { settings, timeZone } = context;
  const chain = chainFor(settings, occurrence);
  if (!chain) return [];
  const quietAt = (unixS: number) =>
    ignoresQuietHours(occurrence.condition)
      ? null
      : quietUntil(unixS, settings.quietHours, timeZone);
  const messages = new Map<string, Message>();
  const messageFor = ({ language }: Contact, held: boolean): Message => {
    const key = `${language} ${held}`;
    const message = messages.get(key) ?? composeMessage(occurrence, context, rangS, language, held);
    messages.set(key, message);
    return message;
  };
  const equipment = findCondition(occurrence.condition)?.alarmClass === "equipment";
  const grace = rangS + (equipment ? equipmentGraceS : 0);
  // The first step's morning begins the escalation: who is second hears of it so long after the first.
  const quietFirst = quietAt(grace);
  const start = quietFirst ?? grace;
  return chain.steps.flatMap((step, i) => {
    const quiet = quietAt(start + step.afterS);
    const due = quiet ?? start + step.afterS;
    const held = quietFirst !== null || quiet !== null;
    return contactsOf(settings, step.contacts).flatMap((contact) =>
      rowsTo(contact, messageFor(contact, held), { tag: String(i), nowS, due }),
    );
  });
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
      expires: Math.max(when.due, when.nowS) + lifetimeS[message.priority],
    }));
}

export function contactsOf(settings: NotifySettings, ids: readonly string[]): Contact[] {
  return settings.contacts.filter((contact) => ids.includes(contact.id));
}
