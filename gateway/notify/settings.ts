import { languageSchema } from "@leeward/shared-core/alarms/language/languages.ts";
import { z } from "zod";

/** Who hears of alarms, on which ways, when and after how long. Stored as one JSON document. */

const clockTime = z
  .string()
  .regex(/^([01]\d|2[0-3]):[0-5]\d$/, "must be a time of day such as 22:00");

const identifier = z
  .string()
  .regex(/^[a-z0-9](-?[a-z0-9]){0,31}$/, "must be lower-case letters, digits and single hyphens");

/** A way to reach somebody. */
export const waySchema = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("email"), to: z.email() }),
  /** Every browser that this contact has subscribed. */
  z.strictObject({ kind: z.literal("push") }),
  z.strictObject({
    kind: z.literal("webhook"),
    url: z.url({ protocol: /^https?$/ }),
    /** Shared secret of the signature, at least 24 characters. */
    secret: z.string().min(24),
  }),
  /** The site's alarm topic, for whoever subscribes. */
  z.strictObject({ kind: z.literal("mqtt") }),
  /** Lamp, buzzer or both at the station's node. */
  z.strictObject({
    kind: z.literal("node"),
    lamp: z.boolean().default(true),
    buzzer: z.boolean().default(false),
    seconds: z.int().min(1).max(60).default(30),
  }),
]);
export type Way = z.infer<typeof waySchema>;

/** A topic or a lamp that took a message says nothing of people. */
export const reachesPeople: readonly Way["kind"][] = ["email", "push", "webhook"];

export const contactSchema = z.strictObject({
  id: identifier,
  name: z.string().min(1).max(60),
  /** Language of the messages to this contact; the site's where left out. */
  language: languageSchema.optional(),
  ways: z.array(waySchema).min(1),
});
export type Contact = z.infer<typeof contactSchema>;

export const chainSchema = z.strictObject({
  /** Which alarms take this chain; the first that fits is taken. */
  priorities: z.array(z.enum(["high", "medium", "low"])).min(1),
  stations: z.array(z.string()).optional(),
  /** Steps of escalation: who hears of it how long after, unless somebody has acknowledged. */
  steps: z
    .array(z.strictObject({ afterS: z.number().min(0).max(86_400), contacts: z.array(identifier) }))
    .min(1),
});
export type Chain = z.infer<typeof chainSchema>;

export const notifySettingsSchema = z
  .strictObject({
    contacts: z.array(contactSchema),
    chains: z.array(chainSchema),
    /** Local times; alarms of class `safety` and `arc-without-gas` ignore them. */
    quietHours: z.strictObject({ from: clockTime, to: clockTime }).nullable().default(null),
    /** Low-priority alarms go out together at this local time. */
    digestAt: clockTime.nullable().default("07:00"),
    digestTo: z.array(identifier).default([]),
    /** Address at which people reach the dashboard; messages link there. */
    publicUrl: z
      .url({ protocol: /^https?$/ })
      .nullable()
      .default(null),
    smtp: z
      .strictObject({
        host: z.string().min(1),
        port: z.int().min(1).max(65_535),
        /** TLS from the first byte; otherwise STARTTLS where the server offers it. */
        secure: z.boolean().default(false),
        /** Refuse to send in clear text. */
        requireTls: z.boolean().default(true),
        user: z.string().optional(),
        password: z.string().optional(),
        from: z.string().min(3),
      })
      .nullable()
      .default(null),
    /** `mailto:` or https address that push services may write to (RFC 8292). */
    pushSubject: z
      .string()
      .regex(/^(mailto:|https:\/\/)/, "must begin with mailto: or https://")
      .nullable()
      .default(null),
    /** An address outside that expects to hear from the gateway, and how often. */
    heartbeat: z
      .strictObject({
        url: z.url({ protocol: /^https?$/ }),
        everyS: z.number().min(15).max(86_400),
      })
      .nullable()
      .default(null),
  })
  .superRefine((settings, context) => {
    const ids = settings.contacts.map((contact) => contact.id);
    if (new Set(ids).size !== ids.length) {
      context.addIssue({ code: "custom", path: ["contacts"], message: "names a contact twice" });
    }
    const named = [
      ...settings.digestTo.map((id) => ({ id, path: ["digestTo"] as (string | number)[] })),
      ...settings.chains.flatMap((chain, i) =>
        chain.steps.flatMap((step, j) =>
          step.contacts.map((id) => ({ id, path: ["chains", i, "steps", j, "contacts"] })),
        ),
      ),
    ];
    for (const { id, path } of named) {
      if (!ids.includes(id)) {
        context.addIssue({ code: "custom", path, message: `names ${id}, which is no contact` });
      }
    }
    const wants = new Set(settings.contacts.flatMap((contact) => contact.ways.map((w) => w.kind)));
    if (wants.has("email") && settings.smtp === null) {
      context.addIssue({
        code: "custom",
        path: ["smtp"],
        message: "is missing, but a contact is to get e-mail: give the mail server",
      });
    }
    if (wants.has("push") && settings.pushSubject === null) {
      context.addIssue({
        code: "custom",
        path: ["pushSubject"],
        message: "is missing, but a contact is to get push messages: give a mailto: address",
      });
    }
  });
export type NotifySettings = z.infer<typeof notifySettingsSchema>;

/** Nobody is to hear of anything: how a gateway starts. */
export const emptyNotifySettings: NotifySettings = notifySettingsSchema.parse({
  contacts: [],
  chains: [],
});

/** A browser's subscription (RFC 8030), and whose it is. */
export const pushSubscriptionSchema = z.strictObject({
  id: z.string(),
  contact: identifier,
  endpoint: z.url({ protocol: /^https$/, error: "must be an https address" }),
  keys: z.strictObject({ p256dh: z.string().min(80), auth: z.string().min(20) }),
});
export type PushSubscription = z.infer<typeof pushSubscriptionSchema>;
