import { z } from "zod";

const bar = z.number().min(0).max(40).nullable();

/** A bench test as the gateway keeps it: the rows as CSV, with what a calibrator writes beside them. */
export const benchTestSchema = z
  .strictObject({
    schema: z.literal(1),
    name: z.string().trim().min(1).max(80),
    /** `<site>.<station>` whose regulator and flow device were tested. */
    station: z.string().min(3).max(81),
    /** Rows with their heading, in the columns of `leeward fit`. */
    csv: z.string().max(60_000),
    serial: z.string().max(80),
    /** Day of the test, as written. */
    date: z.string().max(40),
    /** Calibrated meter and its certificate. */
    meter: z.string().max(120),
    /** True flow wanted, `metric20` L/min; null: the station's own. */
    targetLpm: z.number().positive().max(200).nullable(),
    /** Gauge line pressure at rest and while gas flows; null where not measured. */
    restBar: bar,
    flowingBar: bar,
    /** In the shop's currency; null where unknown. */
    price: z.number().min(0).nullable(),
  })
  .meta({ id: "BenchTest" });
export type BenchTestDocument = z.infer<typeof benchTestSchema>;

/** A test as the API gives it. */
export const benchTestViewSchema = z
  .object({
    id: z.string(),
    version: z.int(),
    /** RFC 3339. */
    saved: z.string(),
    test: benchTestSchema,
  })
  .meta({ id: "BenchTestView" });
export type BenchTestView = z.infer<typeof benchTestViewSchema>;

export const benchTestListSchema = z.object({ tests: z.array(benchTestViewSchema) });
