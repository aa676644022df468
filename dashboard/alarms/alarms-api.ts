import type { AlarmConditionView, AlarmDetail } from "@leeward/shared-core/api/alarm-facts.ts";
import type {
  AlarmList,
  AlarmMeasures,
  AlarmView,
  alarmJournalSchema,
  PutAwayView,
} from "@leeward/shared-core/api/alarms.ts";
import type { z } from "zod";
import { request } from "../api/client.ts";

export type AlarmJournal = z.infer<typeof alarmJournalSchema>;
export type JournalEntry = AlarmJournal["entries"][number];

/** Somebody who hears of alarms. */
export interface Contact {
  id: string;
  name: string;
}

export interface OutboxMessage {
  id: string;
  contact: string;
  way: string;
  state: "waiting" | "delivered" | "failed" | "cancelled";
  lastError: string | null;
}

/** What a person does about an alarm. */
export type Act =
  | { kind: "acknowledge"; by: string; note: string }
  | { kind: "shelve"; by: string; note: string; minutes: number }
  | { kind: "out-of-service"; by: string; note: string }
  | { kind: "unshelve"; by: string };

const post = (body: unknown): RequestInit => ({
  method: "POST",
  headers: { "content-type": "application/json" },
  body: JSON.stringify(body),
});

export const getConditions = () =>
  request<{ conditions: AlarmConditionView[] }>("alarms/conditions");

export const getAlarm = (id: string) => request<AlarmDetail>(`alarms/${encodeURIComponent(id)}`);

export const getJournal = (fromS: number, toS: number, limit: number) =>
  request<AlarmJournal>(`alarms/journal?from=${fromS}&to=${toS}&limit=${limit}`);

export const getMeasures = (days: string) => request<AlarmMeasures>(`alarms/measures?days=${days}`);

export function act(id: string, { kind, ...body }: Act) {
  return request<AlarmView>(`alarms/${encodeURIComponent(id)}/${kind}`, post(body));
}

/** Ends what was put away, by its place and condition. */
export const putBack = ({ site, station, condition }: PutAwayView, by: string) =>
  request<AlarmList>("alarms/put-back", post({ site, station, condition, by }));

export const getDelivery = () => request<{ settings: { contacts: Contact[] } }>("notify");

export const getMessages = (query: string) =>
  request<{ messages: OutboxMessage[] }>(`notify/outbox?${query}`);

export const sendTest = (contact: string) =>
  request<{ ids: string[] }>("notify/test", post({ contact }));
