import { z } from "zod";
import { saidAlarmSchema } from "../alarms/language/said.ts";
import { prioritySchema } from "../estimation/estimate.ts";

/** Shapes of the alarm API. Times are RFC 3339. */

export const alarmStateSchema = z.enum([
  "normal",
  "unacknowledged",
  "acknowledged",
  "returned-unacknowledged",
  "latched-unacknowledged",
  "latched-acknowledged",
  "shelved",
  "suppressed-by-design",
  "out-of-service",
]);
export type AlarmStateWord = z.infer<typeof alarmStateSchema>;

/** One occurrence of an alarm condition, with its state after IEC 62682 / ISA-18.2. */
export const alarmSchema = z
  .object({
    id: z.string(),
    site: z.string(),
    /** `<site>.<station>`; null where it concerns the whole site. */
    station: z.string().nullable(),
    condition: z.string(),
    priority: prioritySchema,
    state: alarmStateSchema,
    /** The condition holds now, as far as is known. */
    active: z.boolean(),
    /** When the condition became true, before its delay. */
    since: z.string(),
    raised: z.string(),
    returned: z.string().nullable(),
    acknowledged: z
      .object({ at: z.string(), by: z.string(), note: z.string().nullable() })
      .nullable(),
    shelf: z
      .object({
        kind: z.enum(["shelved", "out-of-service"]),
        until: z.string().nullable(),
        by: z.string(),
        note: z.string(),
      })
      .nullable(),
    /** The condition that explains it. */
    suppressedBy: z.string().nullable(),
    title: z.string(),
    advice: z.string(),
    /** Title and advice as keys and SI values; null where only the texts are known. */
    said: saidAlarmSchema.nullable(),
    /** Longest time for which it can be shelved, min. */
    shelveLimitMin: z.int(),
  })
  .meta({ id: "Alarm" });
export type AlarmView = z.infer<typeof alarmSchema>;

/** A condition of a place that people have put away while no alarm of it stands: if it comes, it rings for nobody. */
export const putAwaySchema = z
  .object({
    site: z.string(),
    /** `<site>.<station>`; null where it concerns the whole site. */
    station: z.string().nullable(),
    condition: z.string(),
    kind: z.enum(["shelved", "out-of-service"]),
    since: z.string(),
    /** When it comes back by itself; null where a person must bring it back. */
    until: z.string().nullable(),
    by: z.string(),
    note: z.string(),
  })
  .meta({ id: "PutAway" });
export type PutAwayView = z.infer<typeof putAwaySchema>;

/** Everything that is not normal, the loudest and newest first, and what is put away besides. */
export const alarmListSchema = z
  .object({ alarms: z.array(alarmSchema), putAway: z.array(putAwaySchema) })
  .meta({ id: "AlarmList" });
export type AlarmList = z.infer<typeof alarmListSchema>;

const person = z.string().trim().min(1).max(60).describe("Name of the person");
const note = z.string().trim().max(500).default("");

export const acknowledgeSchema = z.strictObject({ by: person, note });
export const shelveSchema = z.strictObject({
  by: person,
  note,
  minutes: z.number().min(1).max(480),
});
export const unshelveSchema = z.strictObject({ by: person });
/** Names what is put away by its place and condition, as `PutAway` gives them. */
export const putBackSchema = z.strictObject({
  site: z.string(),
  station: z.string().nullable(),
  condition: z.string(),
  by: person,
});

export const alarmJournalEntrySchema = z
  .object({
    time: z.string(),
    recorded: z.string(),
    site: z.string(),
    station: z.string().nullable(),
    alarm: z.string().nullable(),
    condition: z.string(),
    kind: z.string(),
    priority: prioritySchema.nullable(),
    by: z.string().nullable(),
    note: z.string().nullable(),
  })
  .meta({ id: "AlarmJournalEntry" });
export const alarmJournalSchema = z
  .object({ entries: z.array(alarmJournalEntrySchema) })
  .meta({ id: "AlarmJournal" });

/** What there is a benchmark for. */
export const benchmarkKeys = ["mean", "over-ten", "chattering", "stale", "high-share"] as const;

const place = z.object({ station: z.string().nullable(), condition: z.string() });

/** How well the alarms do, beside benchmarks as they are commonly quoted; each says its source. */
export const alarmMeasuresSchema = z
  .object({
    days: z.number(),
    raised: z.int(),
    perDay: z.number(),
    perTenMinutes: z.object({
      mean: z.number(),
      most: z.int(),
      /** Share of ten-minute periods with more than ten alarms. */
      overTenShare: z.number(),
    }),
    floods: z.array(z.object({ from: z.string(), to: z.string(), alarms: z.int() })),
    chattering: z.array(place.extend({ times: z.int() })),
    /** Standing for more than 24 h. */
    stale: z.array(place.extend({ since: z.string() })),
    standing: z.int(),
    priorityShare: z.object({ high: z.number(), medium: z.number(), low: z.number() }),
    /** The ten that ring most, and their share of all. */
    topTen: z.array(place.extend({ times: z.int(), share: z.number() })),
    benchmarks: z.array(
      z.object({
        key: z.enum(benchmarkKeys),
        what: z.string(),
        aim: z.string(),
        met: z.boolean(),
        source: z.string(),
      }),
    ),
  })
  .meta({ id: "AlarmMeasures" });
export type AlarmMeasures = z.infer<typeof alarmMeasuresSchema>;
