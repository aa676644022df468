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

export type OutboxState = "waiting" | "delivered" | "failed" | "cancelled";

/** One message on one way to one contact, before it is stored. */
export interface NewOutboxRow {
  /** Stable: message, contact and way make it, so that the same is stored once. */
  id: string;
  occurrence: string | null;
  kind: Message["kind"];
  contact: string;
  way: Way;
  message: Message;
  created: number;
  /** Not before. */
  due: number;
  /** Given up after. */
  expires: number;
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
