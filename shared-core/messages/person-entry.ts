import { z } from "zod";
import { notNegative, positive, saidText } from "../documents/common.ts";
import { procedureSchema } from "../documents/procedure.ts";
import type { PersonEntry } from "../estimation/engine.ts";

/** What people say, as it stands in replay files and goes through the HTTP API. */

// Bounds are generous: beyond them something was mistyped, or told in another unit.

/** Above every cylinder: those of 300 bar are the fullest in use; common practice, no source. */
const fillBar = above0(1000, "bar, gauge");
/** Above a tank of some tonnes. */
const contentKg = 1e4;

const targetMessage = "must be from 0.1 to 500 L/min";
const presentMessage = `must be from 0 to ${contentKg} kg`;

/** A number above 0 and not above a bound, with a message that says so. */
function above0(most: number, unit: string) {
  const message = `must be above 0 and at most ${most} ${unit}`;
  return z.number().positive(message).max(most, message);
}

/** What the float or gauge shows now, in the device's own unit. */
export const readingEntrySchema = z
  .strictObject({ reading: notNegative })
  .meta({ id: "ReadingEntry" });

/** A cylinder change; an empty object means the same kind, full. */
export const swapEntrySchema = z
  .strictObject({
    filledBar: fillBar.optional(),
    filledC: z.number().min(-60).max(80).optional(),
    filledKg: above0(contentKg, "kg").optional(),
    presentKg: z.number().min(0, presentMessage).max(contentKg, presentMessage).optional(),
    /** Stamped on the cylinder now fitted, where a scale stands under it. */
    tareKg: above0(contentKg, "kg").optional(),
    litres: above0(1e6, "litres of gas").optional(),
    lot: saidText(80).optional(),
    serial: saidText(60).optional(),
  })
  .refine(
    ({ filledKg, presentKg }) =>
      filledKg === undefined || presentKg === undefined || presentKg <= filledKg,
    {
      path: ["presentKg"],
      message: "is more than filledKg: no more can be left than was filled in",
    },
  )
  .meta({ id: "SwapEntry" });

/** A declared purge: by a pipe's bore and length or a vessel's volume, by volumes, oxygen or minutes. */
export const purgeEntrySchema = z
  .strictObject({
    boreMm: positive.optional(),
    lengthM: positive.optional(),
    volumeL: positive.optional(),
    volumes: positive.optional(),
    oxygenPpm: positive
      .lt(209_460, "is not below the 209460 ppm of air: say how little oxygen is wanted")
      .optional(),
    minutes: positive.optional(),
    end: z.boolean().optional(),
  })
  .meta({ id: "PurgeEntry" });

/** What is welded now. */
export const jobEntrySchema = z
  .strictObject({
    procedure: procedureSchema.optional(),
    targetLpm: z.number().min(0.1, targetMessage).max(500, targetMessage).optional(),
    job: saidText(120).optional(),
    welder: saidText(120).optional(),
    plannedArcMinutes: above0(10_000, "minutes").optional(),
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
