import { z } from "zod";
import { saidAlarmSchema } from "../alarms/language/said.ts";
import { readingUnitSchema } from "../documents/common.ts";

/**
 * The line that replay prints and the gateway serves for one station at one moment.
 * Litres and L/min are `metric20`; low and high bound a 95 % interval.
 * A value that cannot be known is null, with its reason in `why` beside it.
 */

export const modeSchema = z.enum(["flowing", "idle", "valve-closed", "unknown", "silent"]);
export type Mode = z.infer<typeof modeSchema>;

const why = z.string().optional();
const value = z.number().nullable();

export const flowSchema = z.object({
  lpm: value,
  low: value.optional(),
  high: value.optional(),
  /** What the figure rests on: `line-pressure`, `cylinder`, `both`, `meter`, `no-flow`. */
  basis: z.string().optional(),
  why,
});
export type FlowEstimate = z.infer<typeof flowSchema>;

export const contentSchema = z.object({
  litres: value,
  low: value.optional(),
  high: value.optional(),
  usableLitres: value.optional(),
  /** Seconds since the last reading with the valve open, while the content is held. */
  ageS: z.number().optional(),
  why,
});
export type ContentEstimate = z.infer<typeof contentSchema>;

export const quantilesSchema = z.object({
  median: value,
  low: value.optional(),
  high: value.optional(),
  why,
});
export type Quantiles = z.infer<typeof quantilesSchema>;

export const remainingSchema = z.object({
  gasOnMinutes: quantilesSchema,
  atTargetMinutes: quantilesSchema,
  clockMinutes: quantilesSchema,
});
export type RemainingEstimate = z.infer<typeof remainingSchema>;

export const scaleReadingSchema = z.object({
  reading: value,
  unit: readingUnitSchema.optional(),
  why,
});
export type ScaleReading = z.infer<typeof scaleReadingSchema>;

export const demandWindowSchema = z.object({
  minimumLpm: value,
  targetLpm: value,
  maximumLpm: value,
  why,
});
export type DemandWindow = z.infer<typeof demandWindowSchema>;

/** Loss of one side in a leak test with the valve closed, cm³/min at 20 °C and 101.325 kPa, with its 95 % interval. */
const testedSideSchema = z
  .object({ cm3PerMin: z.number(), low: z.number(), high: z.number(), smallest: z.number() })
  .nullable();

/** A ten-minute leak test with the valve closed: its course, and what it found. */
export const leakTestSchema = z.object({
  phase: z.enum(["settling", "running", "done", "void"]),
  since: z.number(),
  until: z.number(),
  why: z
    .enum([
      "gas-on",
      "valve-opened",
      "cylinder-changed",
      "too-few-readings",
      "no-pressure",
      "ended",
    ])
    .optional(),
  side: z.enum(["cylinder", "line", "both", "unknown", "none"]).optional(),
  tested: z.enum(["cylinder", "line", "both"]).optional(),
  cylinder: testedSideSchema.optional(),
  line: testedSideSchema.optional(),
  cautions: z
    .array(
      z.enum([
        "no-line-sensor",
        "regulator-open",
        "line-draws-high-side",
        "volume-not-described",
        "no-temperature",
        "high-side-empty",
        "high-side-without-pressure",
        "line-without-pressure",
        "valve-taken-as-closed",
      ]),
    )
    .optional(),
});
export type LeakTestEstimate = z.infer<typeof leakTestSchema>;

export const leakSchema = z.object({
  litresPerMinute: value,
  low: value.optional(),
  high: value.optional(),
  side: z.enum(["cylinder", "line", "unknown"]).nullable(),
  tested: z.enum(["cylinder", "line", "both", "none"]),
  why,
  /** The last leak test that was declared for this station; left out where none was. */
  test: leakTestSchema.optional(),
});
export type LeakEstimate = z.infer<typeof leakSchema>;

/** What became known since the line before; `t` is when it happened. */
export const eventSchema = z.object({
  t: z.number(),
  event: z.enum([
    "gas-on",
    "gas-off",
    "arc-on",
    "arc-off",
    "re-dial",
    "swap",
    "regulator-replaced",
    "line-left-under-pressure",
    "valve-closed",
    "valve-opened",
    "line-bled",
    "sensor-fault",
    "sensor-ok",
    /** A job declared without gas ended with its shift: an arc without gas rings again. */
    "gasless-ended",
    /** A declared purge ended without a person's word: what it kept from ringing rings again. */
    "purge-ended",
  ]),
  /** re-dial: new over old true flow at the same line pressure. */
  ratio: z.number().optional(),
  /** swap: the content now fitted. */
  litres: z.number().optional(),
  /** line-left-under-pressure: where heat alone should bring it at the day's hottest, gauge Pa. */
  forecastPa: z.number().optional(),
  channel: z.string().optional(),
  fault: z.string().optional(),
  /** purge-ended: a long gas-off, an arc, another job, or the end of the shift. */
  by: z.enum(["gas-off", "arc", "job", "shift"]).optional(),
});
export type StationEvent = z.infer<typeof eventSchema>;

export const prioritySchema = z.enum(["high", "medium", "low"]);
export type Priority = z.infer<typeof prioritySchema>;

export const activeAlarmSchema = z.object({
  condition: z.string(),
  priority: prioritySchema,
  /** When the condition became true, before its delay. */
  since: z.number(),
  /** It no longer holds: only its off-delay keeps it. */
  ending: z.literal(true).optional(),
  /** What is wrong, and what to do, in a welder's words: in the site's language and units. */
  title: z.string().optional(),
  advice: z.string().optional(),
  /** The same as keys and SI values, for a reader with another language or units. */
  said: saidAlarmSchema.optional(),
});
export type ActiveAlarm = z.infer<typeof activeAlarmSchema>;

/** A purge that was declared, as it stands. */
export const toldPurgeSchema = z.object({
  since: z.number(),
  /** Times the volume that have passed; null where neither pipe nor vessel was named. */
  volumesPassed: value,
  /** Times the volume to pass; null where only a time, or nothing, was named. */
  volumesWanted: value,
  minutes: value,
});
export type ToldPurge = z.infer<typeof toldPurgeSchema>;

/** A job that was begun. */
export const toldJobSchema = z.object({
  since: z.number(),
  job: z.string().nullable(),
  welder: z.string().nullable(),
  wps: z.string().nullable(),
  gasless: z.boolean(),
});
export type ToldJob = z.infer<typeof toldJobSchema>;

export const estimateSchema = z.object({
  t: z.number(),
  mode: modeSchema,
  /** Since when gas has been on or off; null where that is not known. */
  gasSince: value.optional(),
  /** What people have declared and not ended. */
  told: z.object({ purge: toldPurgeSchema.nullable(), job: toldJobSchema.nullable() }).optional(),
  flow: flowSchema,
  /** When idle: the flow that the next gas-on would give. */
  expected: flowSchema.nullable(),
  content: contentSchema,
  remaining: remainingSchema,
  indicated: scaleReadingSchema,
  dialTo: scaleReadingSchema,
  demand: demandWindowSchema.nullable(),
  regulatorC: value,
  leak: leakSchema,
  /** Latest measured values as they stand at `t` (gauge Pa, °C); null where none is fitted or it is in fault. */
  measured: z
    .object({
      cylinderPa: value,
      linePa: value,
      cylinderC: value,
      ambientC: value,
      arc: z.boolean().nullable(),
    })
    .optional(),
  events: z.array(eventSchema),
  alarms: z.array(activeAlarmSchema),
  /** Alarm conditions that cannot be judged now, and why; left out where all can. */
  undecided: z.array(z.object({ condition: z.string(), why: z.string() })).optional(),
});
export type Estimate = z.infer<typeof estimateSchema>;
