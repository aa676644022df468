import { z } from "zod";
import { stationSchema } from "../documents/station.ts";
import { estimateSchema } from "../estimation/estimate.ts";
import { type AlarmView, alarmSchema } from "./alarms.ts";

/** What a stored description says that nothing reads: kept, but perhaps misspelt. */
export const documentWarningSchema = z
  .object({
    /** Where the key stands, such as `flowDevic`. */
    path: z.string(),
    message: z.string(),
  })
  .meta({ id: "DocumentWarning" });

/** A station as the API gives it: its description, its latest estimate and how old that is. */
export const stationViewSchema = z
  .object({
    /** `<site>.<station>` */
    id: z.string(),
    site: z.string(),
    station: z.string(),
    name: z.string(),
    virtual: z.boolean(),
    /** Version of the description, for If-Match. */
    version: z.int(),
    description: stationSchema,
    /** Latest estimate; null until the first samples arrive. */
    estimate: estimateSchema.nullable(),
    node: z.object({
      name: z.string().nullable(),
      state: z.enum(["online", "offline", "unknown"]),
      /** RFC 3339; newest sample of the node. */
      lastSample: z.string().nullable(),
      /** What feeds it, as it says: `battery` watches the content only; left out where it says nothing. */
      power: z.string().optional(),
      /** Its clock runs so far ahead that its packs are refused, s; left out where they are taken. */
      clockAheadS: z.number().optional(),
    }),
    /** Seconds between lines of a live station, so that a page knows when a value is old. */
    paceS: z.number(),
    /** Seconds since what the estimate shows was measured; null without one. */
    ageS: z.number().nullable(),
    /**
     * The estimate is older than its pace, or the node is silent: nothing of it, its `mode` neither,
     * tells what is now. So after a restart, until the first new pack. True without an estimate.
     */
    old: z.boolean(),
  })
  .meta({ id: "Station" });
export type StationView = z.infer<typeof stationViewSchema>;

/** Answer to a description that was stored; `warnings` where it has keys that nothing reads. */
export const savedStationSchema = stationViewSchema
  .extend({ warnings: z.array(documentWarningSchema).optional() })
  .meta({ id: "SavedStation" });

/** Where a node that is free now stood until it was replaced or taken away. */
export const stoodAtSchema = z.object({
  /** `station:bay-3` or `supply:ring-1`, of the same site. */
  owner: z.string(),
  /** RFC 3339. */
  until: z.string(),
});
export type StoodAt = z.infer<typeof stoodAtSchema>;

/** A node that no station claims: raw pressures only. */
export const unclaimedNodeSchema = z
  .object({
    site: z.string(),
    node: z.string(),
    lastSample: z.string().nullable(),
    measured: z.record(z.string(), z.union([z.number(), z.boolean(), z.string()])),
    /** Absent where no place has had it yet. */
    stood: stoodAtSchema.optional(),
  })
  .meta({ id: "UnclaimedNode" });
export type UnclaimedNode = z.infer<typeof unclaimedNodeSchema>;

export const stationListSchema = z
  .object({
    site: z.object({
      /** Its name in topics and documents. */
      id: z.string().optional(),
      /** Where stations of one's own belong, while the site that is listed is the demo's. */
      own: z.string().optional(),
      name: z.string(),
      timeZone: z.string(),
      currency: z.string().optional(),
    }),
    /** Unix seconds by the gateway's clock, and how fast it runs against the wall clock (1 but for demos). */
    now: z.number(),
    demo: z.object({ virtual: z.boolean(), speed: z.number() }),
    /** While the gateway starts: what it is doing, and the share done (0 to 1). Absent afterwards. */
    starting: z.object({ state: z.string(), progress: z.number() }).optional(),
    stations: z.array(stationViewSchema),
    unclaimed: z.array(unclaimedNodeSchema),
    /** Alarms of the whole site, such as that nobody can be reached; none where left out. */
    siteAlarms: z.array(alarmSchema).optional(),
  })
  .meta({ id: "StationList" });
export type StationList = z.infer<typeof stationListSchema>;

/** History at screen resolution; null in an array is a gap, never a zero. */
export const historySchema = z
  .object({
    series: z.record(
      z.string(),
      z.object({
        unit: z.string(),
        /** Unix seconds, start of each bucket. */
        t: z.array(z.number()),
        min: z.array(z.number().nullable()),
        mean: z.array(z.number().nullable()),
        max: z.array(z.number().nullable()),
      }),
    ),
    gaps: z.array(z.object({ from: z.number(), to: z.number() })),
    reference: z.string(),
  })
  .meta({ id: "History" });
export type History = z.infer<typeof historySchema>;

/** Names of history series: measured ones in SI gauge Pa and °C, estimated ones in `metric20` L and L/min. */
export const historySeriesNames = [
  "cylinder-pressure",
  "line-pressure",
  "cylinder-temperature",
  "regulator-temperature",
  "ambient-temperature",
  "flow",
  "flow-low",
  "flow-high",
  "indicated",
  "content",
] as const;
export type HistorySeriesName = (typeof historySeriesNames)[number];

/** Some of them by name, with commas between: a chart asks for what it draws. */
export const historySeriesQuerySchema = z
  .string()
  .transform((text) => [...new Set(text.split(","))])
  .pipe(z.array(z.enum(historySeriesNames)))
  .meta({
    description: `Names with commas between, of ${historySeriesNames.join(", ")}; all when left out.`,
  });

/** Server-sent events on `/api/v1/events`: `event:` is the kind, `data:` this JSON. */
export interface LiveEvents {
  estimate: {
    id: string;
    now: number;
    estimate: z.infer<typeof estimateSchema>;
    lastSample: string | null;
  };
  status: { now: number; id: string | null; node: string; state: "online" | "offline" | "unknown" };
  /**
   * A station's alarms changed (`alarms`: those of its latest estimate), or what people and the
   * life cycle did to some (`changed`, as in the alarm list; `normal` has left it). `id` is null
   * for an alarm of the whole site.
   */
  alarm: {
    id: string | null;
    now: number;
    alarms: z.infer<typeof estimateSchema>["alarms"];
    changed?: AlarmView[];
  };
}

/** RFC 9457 problem details. */
export const problemSchema = z
  .object({
    type: z.string(),
    title: z.string(),
    status: z.int(),
    detail: z.string().optional(),
    faults: z.array(z.object({ path: z.string(), message: z.string() })).optional(),
  })
  .meta({ id: "Problem" });
export type Problem = z.infer<typeof problemSchema>;
