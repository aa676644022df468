import type { Language } from "@leeward/shared-core/alarms/language/languages.ts";
import type { Way } from "./settings.ts";

/** What a message says: complete without its link. */
export interface Message {
  /** Stable id of the message; the same for every way it goes. */
  id: string;
  kind: "alarm" | "digest" | "reminder" | "test";
  site: string;
  /** `<site>.<station>`; null where it concerns none. */
  station: string | null;
  occurrence: string | null;
  condition: string | null;
  priority: "high" | "medium" | "low";
  /** One line, such as a lock screen shows. */
  line: string;
  /** What to do, and since when. */
  body: string;
  /** Where details and acknowledging are; null where the owner gave no address. */
  link: string | null;
  /** Unix s. */
  t: number;
  /** Language that it is written in; English where left out. */
  language?: Language;
  /** Node that can show lamp and buzzer. */
  node: string | null;
}

/** Why messages of an alarm are taken back that has come back by itself. */
export const HAS_GONE = "it has gone";

/** Why messages of an alarm are taken back while another explains it. */
export function explainedBy(condition: string): string {
  return `${explained}${condition}`;
}
const explained = "explained by ";

/** Whether a message taken back for this reason goes out after all when its alarm comes back; one that a person took back does not. */
export function mayGoOn(why: string | null): boolean {
  return why === HAS_GONE || (why?.startsWith(explained) ?? false);
}

/** What becomes of messages of an alarm, in the order in which it was decided. */
export type MessageStep =
  /** Stored, or sent after all where they had been taken back and may go on. */
  | { step: "send"; rows: readonly NewOutboxRow[] }
  /** Those that wait and were never tried are no longer wanted. */
  | { step: "cancel"; occurrence: string; why: string }
  /**
   * The ring of one occurrence goes on as that of another: `rows` as the other says them. What was
   * delivered is not sent again.
   */
  | { step: "hand-over"; from: string; to: string; rows: readonly NewOutboxRow[] };

/** Way of a stored message; a push message may be for one browser of the contact only. */
export type RowWay = Way | { kind: "push"; subscription: string };

export type OutboxState = "waiting" | "delivered" | "failed" | "cancelled";

/** One message on one way to one contact, before it is stored. */
export interface NewOutboxRow {
  /** Stable: message, contact and way make it, so that the same is stored once. */
  id: string;
  occurrence: string | null;
  kind: Message["kind"];
  contact: string;
  way: RowWay;
  message: Message;
  created: number;
  /** Not before. */
  due: number;
  /** Given up after. */
  expires: number;
}

/**
 * What shares the fate of a message on its way: one address, one browser's owner, or the one mail
 * server or broker that everything passes.
 */
export function destinationOf({ way, contact }: Pick<OutboxRow, "way" | "contact">): string {
  if (way.kind === "webhook") return way.url;
  return way.kind === "push" ? `push ${contact}` : way.kind;
}

export interface OutboxRow extends NewOutboxRow {
  attempts: number;
  firstAttempt: number | null;
  /** An attempt was begun and its outcome is not known: the next one is marked as a repeat. */
  inFlight: boolean;
  state: OutboxState;
  delivered: number | null;
  lastError: string | null;
}
