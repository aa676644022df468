import { createHash } from "node:crypto";
import { problemSchema } from "@leeward/shared-core/api/stations.ts";
import type { FastifyPluginAsyncZod } from "fastify-type-provider-zod";
import { z } from "zod";
import type { Clock } from "../clock.ts";
import { ProblemError } from "../http/problems.ts";
import type { OutboxStore } from "../store/outbox-store.ts";
import type { Notifier } from "./notifier.ts";
import type { OutboxRow } from "./outbox.ts";
import { type NotifySettings, notifySettingsSchema, pushSubscriptionSchema } from "./settings.ts";

export interface NotifyRouteContext {
  notifier: Notifier;
  outbox: OutboxStore;
  clock: Clock;
}

/** Stands for a secret that is set; sent back, it keeps the one that is stored. */
const kept = "(unchanged, and not shown)";
const iso = (t: number) => new Date(t * 1000).toISOString();

const outboxSchema = z
  .object({
    messages: z.array(
      z.object({
        id: z.string(),
        kind: z.string(),
        contact: z.string(),
        way: z.string(),
        line: z.string(),
        state: z.enum(["waiting", "delivered", "failed", "cancelled"]),
        created: z.string(),
        due: z.string(),
        attempts: z.int(),
        delivered: z.string().nullable(),
        lastError: z.string().nullable(),
      }),
    ),
  })
  .meta({ id: "Outbox" });

/** Delivery: who hears of alarms, what is on its way, a test, and browsers that subscribe. */
export function notifyRoutes(context: NotifyRouteContext): FastifyPluginAsyncZod {
  const { notifier, outbox, clock } = context;
  return async (app) => {
    app.get(
      "/notify",
      {
        schema: {
          summary: "Contacts, chains, quiet hours, heartbeat; secrets are not shown",
          tags: ["notify"],
          response: { 200: z.record(z.string(), z.unknown()) },
        },
      },
      () => ({
        settings: masked(notifier.settings),
        heartbeat: {
          last: notifier.heartbeat.state.last === null ? null : iso(notifier.heartbeat.state.last),
          error: notifier.heartbeat.state.error,
        },
      }),
    );

    app.put(
      "/notify",
      {
        schema: {
          summary: "Sets them anew; a secret sent back as it was shown stays as it is",
          tags: ["notify"],
          body: z.record(z.string(), z.unknown()),
          response: { 200: z.record(z.string(), z.unknown()), 422: problemSchema },
        },
      },
      async (request) => {
        const parsed = notifySettingsSchema.safeParse(unmasked(request.body, notifier.settings));
        if (!parsed.success) {
          const faults = parsed.error.issues.map((issue) => ({
            path: issue.path.map(String).join("."),
            message: issue.message,
          }));
          const detail = faults.map((fault) => `${fault.path}: ${fault.message}`).join("; ");
          throw new ProblemError("invalid-document", detail, faults);
        }
        await notifier.saveSettings(parsed.data);
        return { settings: masked(notifier.settings) };
      },
    );

    app.post(
      "/notify/test",
      {
        schema: {
          summary: "Sends a test to a contact on all its ways; look for the ids in the outbox",
          tags: ["notify"],
          body: z.strictObject({ contact: z.string() }),
          response: { 202: z.object({ ids: z.array(z.string()) }), 404: problemSchema },
        },
      },
      async (request, reply) => {
        const ids = await notifier.test(request.body.contact);
        if (ids === null) {
          throw new ProblemError("not-found", `There is no contact ${request.body.contact}.`);
        }
        reply.code(202);
        return { ids };
      },
    );

    app.get(
      "/notify/outbox",
      {
        schema: {
          summary: "Messages and how far they got, newest first",
          tags: ["notify"],
          querystring: z.object({
            limit: z.coerce.number().int().min(1).max(500).default(100),
            state: z.enum(["waiting", "delivered", "failed", "cancelled"]).optional(),
            id: z.union([z.string(), z.array(z.string())]).optional(),
          }),
          response: { 200: outboxSchema },
        },
      },
      async (request) => {
        const { limit, state, id } = request.query;
        const ids = id === undefined ? {} : { ids: typeof id === "string" ? [id] : id };
        const rows = await outbox.list({ limit, ...ids, ...(state ? { state } : {}) });
        return { messages: rows.map(rowView) };
      },
    );

    app.get(
      "/notify/push-key",
      {
        schema: {
          summary: "Public key with which a browser subscribes (RFC 8292)",
          tags: ["notify"],
          response: { 200: z.object({ publicKey: z.string() }) },
        },
      },
      () => ({ publicKey: notifier.vapidPublicKey }),
    );

    app.post(
      "/notify/subscriptions",
      {
        schema: {
          summary: "A browser of a contact takes push messages from now on",
          tags: ["notify"],
          body: pushSubscriptionSchema.omit({ id: true }),
          response: { 201: z.object({ id: z.string() }), 404: problemSchema },
        },
      },
      async (request, reply) => {
        const { contact, endpoint } = request.body;
        if (!notifier.settings.contacts.some((one) => one.id === contact)) {
          throw new ProblemError("not-found", `There is no contact ${contact}.`);
        }
        const id = createHash("sha256").update(endpoint).digest("base64url").slice(0, 22);
        await outbox.saveSubscription({ id, ...request.body }, clock.nowS());
        reply.code(201);
        return { id };
      },
    );

    app.delete(
      "/notify/subscriptions/:id",
      {
        schema: {
          summary: "A browser takes no push messages any more",
          tags: ["notify"],
          params: z.object({ id: z.string() }),
          response: { 204: z.null() },
        },
      },
      async (request, reply) => {
        await outbox.removeSubscription(request.params.id);
        return reply.code(204).send(null);
      },
    );
  };
}

function rowView(row: OutboxRow) {
  return {
    id: row.id,
    kind: row.kind,
    contact: row.contact,
    way: row.way.kind,
    line: row.message.line,
    state: row.state,
    created: iso(row.created),
    due: iso(row.due),
    attempts: row.attempts,
    delivered: row.delivered === null ? null : iso(row.delivered),
    lastError: row.lastError,
  };
}

/** Settings without passwords and shared secrets. */
function masked(settings: NotifySettings): NotifySettings {
  return {
    ...settings,
    smtp:
      settings.smtp?.password === undefined ? settings.smtp : { ...settings.smtp, password: kept },
    contacts: settings.contacts.map((contact) => ({
      ...contact,
      ways: contact.ways.map((way) => (way.kind === "webhook" ? { ...way, secret: kept } : way)),
    })),
  };
}

/** What was sent, with the stored secrets where the mask came back. */
function unmasked(body: unknown, stored: NotifySettings): unknown {
  const sent = structuredClone(body) as {
    smtp?: { password?: unknown } | null;
    contacts?: { id?: unknown; ways?: { kind?: unknown; url?: unknown; secret?: unknown }[] }[];
  };
  if (sent.smtp?.password === kept) sent.smtp.password = stored.smtp?.password;
  if (!Array.isArray(sent.contacts)) return sent;
  for (const contact of sent.contacts) {
    const known = stored.contacts.find((one) => one.id === contact.id);
    if (!Array.isArray(contact.ways)) continue;
    for (const way of contact.ways) {
      if (way.kind !== "webhook" || way.secret !== kept) continue;
      // By its address: a secret must not move to another receiver.
      const same = known?.ways.find((one) => one.kind === "webhook" && one.url === way.url);
      way.secret = same?.kind === "webhook" ? same.secret : undefined;
    }
  }
  return sent;
}
