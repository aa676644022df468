import type {
  JournalEntry,
  supplyListSchema,
  supplyViewSchema,
} from "@leeward/shared-core/api/operations.ts";
import type { NodeView, SiteView } from "@leeward/shared-core/api/setup.ts";
import type { SiteDocument, SupplyDocument } from "@leeward/shared-core/documents/station.ts";
import type { z } from "zod";
import { request } from "../api/client.ts";

const json = { "content-type": "application/json" };

export type SupplyView = z.infer<typeof supplyViewSchema>;

export const getSupplies = () => request<z.infer<typeof supplyListSchema>>("supplies");

export const getSupply = (id: string) => request<SupplyView>(`supplies/${id}`);

/** @param version the one seen; null for a new one */
export const putSupply = (document: SupplyDocument, version: number | null) =>
  request<SupplyView>(`supplies/${document.site}.${document.supply}`, {
    method: "PUT",
    headers: version === null ? json : { ...json, "if-match": `"${version}"` },
    body: JSON.stringify(document),
  });

export const getNodes = () => request<{ nodes: NodeView[] }>("nodes");

export const getNode = (id: string) => request<NodeView>(`nodes/${id}`);

export const identifyNode = (id: string) =>
  request<{ id: string }>(`nodes/${id}/identify`, { method: "POST" });

/** What nodes answered since `from` (Unix s). */
export const getJournal = (from: number) =>
  request<{ entries: JournalEntry[] }>(`journal?from=${Math.floor(from)}`);

export const getSite = (site: string) => request<SiteView>(`sites/${site}`);

/** @param version the one seen; 0 for none */
export const putSite = (document: SiteDocument, version: number) =>
  request<SiteView>(`sites/${document.site}`, {
    method: "PUT",
    headers: version === 0 ? json : { ...json, "if-match": `"${version}"` },
    body: JSON.stringify(document),
  });

/** Who hears of alarms; only what Setup changes is spelt out, the rest goes back as it came. */
export interface DeliverySettings {
  [key: string]: unknown;
  contacts: { id: string; name: string; ways: { [key: string]: unknown; kind: string }[] }[];
  chains: DeliveryChain[];
  /** Local time of the daily digest; null where none is sent. */
  digestAt: string | null;
  digestTo: string[];
  quietHours: { from: string; to: string } | null;
  publicUrl: string | null;
  /** `mailto:` or https address that push services may write to. */
  pushSubject: string | null;
  smtp: MailServer | null;
}

/** Which alarms, of which stations (all where left out), and who hears of them after how long. */
export interface DeliveryChain {
  [key: string]: unknown;
  priorities: ("high" | "medium" | "low")[];
  stations?: string[];
  steps: { afterS: number; contacts: string[] }[];
}

export interface MailServer {
  host: string;
  port: number;
  secure: boolean;
  requireTls: boolean;
  user?: string;
  password?: string;
  from: string;
}

export const getDelivery = () => request<{ settings: DeliverySettings }>("notify");

export const putDelivery = (settings: DeliverySettings) =>
  request<{ settings: DeliverySettings }>("notify", {
    method: "PUT",
    headers: json,
    body: JSON.stringify(settings),
  });

export const testDelivery = (contact: string) =>
  request<{ ids: string[] }>("notify/test", {
    method: "POST",
    headers: json,
    body: JSON.stringify({ contact }),
  });

export interface SentMessage {
  id: string;
  way: string;
  state: "waiting" | "delivered" | "failed" | "cancelled";
  lastError: string | null;
}

/** A message in the outbox; times RFC 3339. */
export interface OutboxMessage extends SentMessage {
  kind: string;
  contact: string;
  line: string;
  created: string;
  due: string;
  attempts: number;
}

/** The newest messages, however far they got. */
export const getOutbox = (limit: number) =>
  request<{ messages: OutboxMessage[] }>(`notify/outbox?limit=${limit}`);

export const getSent = (ids: readonly string[]) =>
  request<{ messages: SentMessage[] }>(`notify/outbox?${ids.map((id) => `id=${id}`).join("&")}`);

export interface EnrolledNodes {
  nodes: { id: string; revoked: string | null }[];
  ownerSet: boolean;
  broker: { required: boolean; embedded: boolean; port: number | null };
}

export const getEnrolled = () => request<EnrolledNodes>("nodes/enrolled");

export interface Credentials {
  id: string;
  code: string;
  provision: Record<string, unknown>;
}

export const enrolNode = (
  id: string,
  place: Record<string, unknown>,
  again: boolean,
  ownerKey: string,
) =>
  request<Credentials>(`nodes/${id}/enrol`, {
    method: "POST",
    headers: ownerKey === "" ? json : { ...json, authorization: `Bearer ${ownerKey}` },
    body: JSON.stringify({ again, place }),
  });

export const getPushKey = () => request<{ publicKey: string }>("notify/push-key");

export const subscribe = (subscription: {
  contact: string;
  endpoint: string | undefined;
  keys: Record<string, string> | undefined;
}) =>
  request<{ id: string }>("notify/subscriptions", {
    method: "POST",
    headers: json,
    body: JSON.stringify(subscription),
  });

export const unsubscribe = (id: string) =>
  request<null>(`notify/subscriptions/${encodeURIComponent(id)}`, { method: "DELETE" });
