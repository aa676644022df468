import { z } from "zod";
import { notNegative, positive } from "../documents/common.ts";
import { procedureSchema } from "../documents/procedure.ts";
import type { PersonEntry } from "../estimation/engine.ts";

/** What people say, as it stands in replay files and goes through the HTTP API. */

/** What the float or gauge shows now, in the device's own unit. */
export const readingEntrySchema = z
  .strictObject({ reading: notNegative })
  .meta({ id: "ReadingEntry" });

/** A cylinder change; an empty object means the same kind, full. */
export const swapEntrySchema = z
  .strictObject({
    filledBar: positive.optional(),
    filledC: z.number().min(-60).max(80).optional(),
    filledKg: positive.optional(),
    presentKg: notNegative.optional(),
    litres: notNegative.optional(),
    lot: z.string().max(80).optional(),
    serial: z.string().max(60).optional(),
  })
  .meta({ id: "SwapEntry" });

/** A declared purge: by a pipe's bore and length or a vessel's volume, by volumes, oxygen or minutes. */
export const purgeEntrySchema = z
  .strictObject({
    boreMm: positive.optional(),
    lengthM: positive.optional(),
    volumeL: positive.optional(),
    volumes: positive.optional(),
    oxygenPpm: positive.optional(),
    minutes: positive.optional(),
    end: z.boolean().optional(),
  })
  .meta({ id: "PurgeEntry" });

/** What is welded now. */
export const jobEntrySchema = z
  .strictObject({
    procedure: procedureSchema.optional(),
    targetLpm: positive.optional(),
    job: z.string().max(120).optional(),
    welder: z.string().max(120).optional(),
    plannedArcMinutes: positive.optional(),
    starts: z.int().positive().optional(),
    gasless: z.boolean().optional(),
    end: z.boolean().optional(),
  })
  .meta({ id: "JobEntry" });

/**
 * A ten-minute leak test starts now: cylinder valve closed, torch shut; the regulator open, or shut
 * too so that the side can be named; `end` gives it up.
 */
export const leakTestEntrySchema = z
  .strictObject({ regulator: z.enum(["open", "shut"]).optional(), end: z.boolean().optional() })
  .meta({ id: "LeakTestEntry" });

/** One entry; at least one of its parts. */
export const personEntrySchema: z.ZodType<PersonEntry> = z
  .strictObject({
    reading: notNegative.optional(),
    swap: swapEntrySchema.optional(),
    purge: purgeEntrySchema.optional(),
    job: jobEntrySchema.optional(),
    leakTest: leakTestEntrySchema.optional(),
    undo: z.literal("swap").optional(),
  })
  .refine((entry) => Object.values(entry).some((part) => part !== undefined), {
    message: "says nothing: give reading, swap, purge, job, leakTest or undo",
  });
