import { nameSchema } from "@leeward/shared-core/documents/common.ts";
import { z } from "zod";

/**
 * All settings of `leeward run`, once: their checks, defaults and texts. Environment variables,
 * flags, `--help` and docs/settings.md are made from it.
 */

const port = z.coerce
  .number("must be a port number from 0 to 65535")
  .int("must be a port number from 0 to 65535")
  .min(0, "must be a port number from 0 to 65535")
  .max(65_535, "must be a port number from 0 to 65535");
const days = z.coerce.number("must be a number of days").positive("must be a number of days");

const timeZone = z.string().refine(isTimeZone, {
  message: "must be an IANA time zone, such as Europe/Copenhagen",
});

function isTimeZone(zone: string): boolean {
  try {
    new Intl.DateTimeFormat("en", { timeZone: zone });
    return true;
  } catch {
    return false;
  }
}

export const settingsSchema = z.strictObject({
  data: z.string().min(1, "must name a folder").default("./data").meta({
    title: "FOLDER",
    description: "Folder for the store and the embedded broker's files.",
  }),
  site: nameSchema
    .default("shop")
    .meta({ title: "NAME", description: "Name of the site, as in the topics of its nodes." }),
  siteName: z
    .string()
    .max(60)
    .optional()
    .meta({ title: "TEXT", description: "What people call the site; its name where not set." }),
  timeZone: timeZone
    .default("UTC")
    .meta({ title: "ZONE", description: "Time zone of the site, for its habits by hour." }),
  host: z.string().min(1, "must be an address").default("127.0.0.1").meta({
    title: "ADDRESS",
    description:
      "Address that dashboard and embedded broker listen on. Anything but loopback lets everybody in that network in: it takes an owner (leeward owner), nodes then need credentials, and a warning says what does not.",
  }),
  port: port
    .default(8080)
    .meta({ title: "PORT", description: "Port of dashboard and API; 0 takes any free one." }),
  mqttPort: port
    .default(1883)
    .meta({ title: "PORT", description: "Port of the embedded broker; 0 takes any free one." }),
  nodes: z.enum(["auto", "enrolled"], "must be auto or enrolled").default("auto").meta({
    title: "auto|enrolled",
    description:
      "Nodes that the embedded broker lets in: on loopback anybody, else enrolled ones (auto), or always enrolled ones (for instance behind a TLS proxy on this machine).",
  }),
  brokerUrl: z
    .string()
    .regex(/^(mqtts?|wss?|tcp|ssl):\/\/.+/, "must be a URL such as mqtt://broker.example:1883")
    .optional()
    .meta({
      title: "URL",
      description: "An MQTT broker of your own; the embedded one then stays off.",
    }),
  virtual: z.enum(["auto", "off"], "must be auto or off").default("auto").meta({
    title: "auto|off",
    description:
      "Virtual stations: shown while no station of your own is set up (auto), or never (off). The first start after you have set one up, or with off, ends the demo: its stations and their invented past are deleted, nothing of your own is.",
  }),
  demoSpeed: z.coerce
    .number("must be a number from 0.1 to 600")
    .min(0.1, "must be a number from 0.1 to 600")
    .max(600, "must be a number from 0.1 to 600")
    .default(1)
    .meta({
      title: "FACTOR",
      description:
        "How many times faster than the wall clock the demo runs; real nodes are refused unless 1.",
    }),
  demoHours: z.coerce
    .number("must be a number of hours from 0 to 168")
    .min(0, "must be a number of hours from 0 to 168")
    .max(168, "must be a number of hours from 0 to 168")
    .default(3.5)
    .meta({ title: "HOURS", description: "How much past the demo's stations are given at start." }),
  rawDays: days
    .default(14)
    .meta({ title: "DAYS", description: "How long raw samples and received messages are kept." }),
  minuteDays: days.default(400).meta({
    title: "DAYS",
    description: "How long one-minute figures are kept; hourly ones stay.",
  }),
  logLevel: z
    .enum(
      ["debug", "info", "warn", "error", "silent"],
      "must be debug, info, warn, error or silent",
    )
    .default("info")
    .meta({ title: "LEVEL", description: "Least level of what is logged, on standard error." }),
});

export type Settings = z.infer<typeof settingsSchema>;
export type SettingName = keyof Settings;

/** One setting as people meet it. */
export interface SettingInfo {
  name: SettingName;
  flag: string;
  variable: string;
  placeholder: string;
  description: string;
  fallback: string | null;
}

/** All settings, in the order of the schema. */
export function settingInfos(): SettingInfo[] {
  return Object.entries(settingsSchema.shape).map(([name, schema]) => {
    const meta = z.globalRegistry.get(schema) ?? {};
    const fallback = schema.safeParse(undefined);
    return {
      name: name as SettingName,
      flag: `--${name.replaceAll(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`,
      variable: `LEEWARD_${name.replaceAll(/[A-Z]/g, (letter) => `_${letter}`).toUpperCase()}`,
      placeholder: meta.title ?? "VALUE",
      description: meta.description ?? "",
      fallback: fallback.success && fallback.data !== undefined ? String(fallback.data) : null,
    };
  });
}
