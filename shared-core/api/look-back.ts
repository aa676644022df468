import { z } from "zod";
import { saidAlarmSchema } from "../alarms/language/said.ts";
import { momentSchema, saidText } from "../documents/common.ts";
import { prioritySchema } from "../estimation/estimate.ts";

/** What was recorded of a station from one moment to another, and what it says of the gas. Unix s; `metric20`. */

const flow = { lpm: z.number(), low: z.number(), high: z.number() };
const span = { from: z.number(), to: z.number() };
const limit = z.number().nullable();

export const shieldingRecordSchema = z
  .object({
    verdict: z.enum(["short", "not-short", "cannot-tell", "no-window", "no-gas"]),
    gasOnS: z.number(),
    shortS: z.number(),
    overS: z.number(),
    doubtS: z.number(),
    enoughS: z.number(),
    edgeS: z.number(),
    noDataS: z.number(),
    noWindowS: z.number(),
    arcWithoutGasS: z.number(),
    litres: z.object({ mean: z.number(), low: z.number(), high: z.number() }),
    mean: z.object(flow).nullable(),
    lowest: z.object({ t: z.number(), ...flow, minimumLpm: z.number() }).nullable(),
    spells: z.array(
      z.object({
        ...span,
        ...flow,
        litres: z.number(),
        litresLow: z.number(),
        litresHigh: z.number(),
        shortS: z.number(),
        overS: z.number(),
        doubtS: z.number(),
      }),
    ),
    stretches: z.array(
      z.object({
        ...span,
        kind: z.enum(["short", "over", "doubt", "no-data", "no-window", "arc-without-gas"]),
      }),
    ),
  })
  .meta({ id: "ShieldingRecord" });

export const windowFromSchema = z.object({
  t: z.number(),
  minimumLpm: limit,
  targetLpm: limit,
  maximumLpm: limit,
});

export const jobSpanSchema = z
  .object({
    from: z.number(),
    to: z.number().nullable(),
    job: z.string().nullable(),
    welder: z.string().nullable(),
    wps: z.string().nullable(),
    gasless: z.boolean(),
    /** Who claimed it afterwards; left out where it was told at the time. */
    claimedBy: z.string().optional(),
    /** When it was claimed. */
    claimedAt: z.number().optional(),
  })
  .meta({ id: "JobSpan" });

/** Gas without a job is given to one, or to a welder, afterwards; `release` alone takes that back. */
export const claimEntrySchema = z
  .strictObject({
    from: momentSchema,
    to: momentSchema,
    job: saidText(120).trim().min(1).optional(),
    welder: saidText(120).trim().min(1).optional(),
    by: saidText(120).optional(),
    release: z.boolean().optional(),
  })
  .refine(({ job, welder, release }) => release === true || (job ?? welder) !== undefined, {
    message: "says for nobody: give job, welder, or release",
  })
  .refine(({ job, welder, release }) => release !== true || (job ?? welder) === undefined, {
    message:
      "both takes back and gives: send release without job and welder, then a claim with the new name",
  })
  .meta({ id: "ClaimEntry" });
export type ClaimEntry = z.infer<typeof claimEntrySchema>;

export const lookBackSchema = z
  .object({
    station: z.string(),
    name: z.string(),
    ...span,
    /** Oldest moment of which every second is kept; before it nothing can be judged. */
    keptFrom: z.number(),
    record: shieldingRecordSchema,
    windows: z.array(windowFromSchema),
    /** What was fitted when it began. */
    cylinder: z.object({
      gas: z.string().nullable(),
      lot: z.string().nullable(),
      serial: z.string().nullable(),
      since: z.number().nullable(),
    }),
    /** Events and entries of people, rising in `t`. */
    events: z.array(
      z.object({ t: z.number(), kind: z.string(), detail: z.record(z.string(), z.unknown()) }),
    ),
    alarms: z.array(
      z.object({
        id: z.string(),
        condition: z.string(),
        priority: prioritySchema,
        title: z.string(),
        /** What is said, to put into the reader's language; null where only the title was kept. */
        said: saidAlarmSchema.nullable(),
        since: z.number(),
        cleared: z.number().nullable(),
        acknowledgedBy: z.string().nullable(),
      }),
    ),
    jobs: z.array(jobSpanSchema),
  })
  .meta({ id: "LookBack" });
export type LookBack = z.infer<typeof lookBackSchema>;

export const jobListSchema = z.object({ jobs: z.array(jobSpanSchema) }).meta({ id: "JobList" });
