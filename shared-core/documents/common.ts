import { z } from "zod";

/** Site, node, station and supply names: lower-case words joined by single hyphens, 1 to 64 characters. */
export const nameSchema = z
  .string()
  .regex(
    /^[a-z0-9](-?[a-z0-9]){0,31}$/,
    "must be lower-case letters, digits and single hyphens, at most 32 of them, such as bay-3",
  );

const fraction = z.number().min(0).max(1);

/** Mole fractions by gas; they must sum to 1 within 1e-6. */
export const compositionSchema = z
  .strictObject({
    Ar: fraction.optional(),
    CO2: fraction.optional(),
    He: fraction.optional(),
    N2: fraction.optional(),
    O2: fraction.optional(),
    H2: fraction.optional(),
  })
  .superRefine((composition, context) => {
    const sum = Object.values(composition).reduce((total, x) => total + (x ?? 0), 0);
    if (Math.abs(sum - 1) > 1e-6) {
      context.addIssue({
        code: "custom",
        message: `mole fractions sum to ${Number(sum.toPrecision(7))}; they must sum to 1`,
      });
    }
  });

/** Printed on a scale: L/min or CFH. */
export const readingUnitSchema = z.enum(["L/min", "CFH"]);
export type ReadingUnit = z.infer<typeof readingUnitSchema>;

/** Reference conditions of a standard volume; see `units/`. */
export const referenceSchema = z.enum(["us", "trade", "iso", "normal", "metric20"]);
export type ReferenceName = z.infer<typeof referenceSchema>;

/** What a part may carry: `inert`, `oxidising` or `flammable` gas. */
export const ratedForSchema = z.array(z.enum(["inert", "oxidising", "flammable"]));

export const positive = z.number().positive();
export const notNegative = z.number().min(0);

/**
 * One line of text that a person said, at most so many characters. Control characters, and those
 * that turn the direction of what follows, could make a page or an export show something else.
 */
export const saidText = (most: number) =>
  z
    .string()
    .max(most)
    .regex(
      /^[^\p{Cc}\u2028-\u202e\u2066-\u2069]*$/u,
      "must be plain text of one line, without control characters or marks that turn its direction",
    );

/** A moment: RFC 3339 text or Unix seconds. */
export const momentSchema = z.union([z.number(), z.iso.datetime({ offset: true })]);

/** A day, such as `2026-03-01`, or a moment. */
export const dateSchema = z.union([z.iso.date(), momentSchema]);

/** Unix seconds of a moment; of a day its first, by UTC. */
export function momentToUnixS(moment: z.infer<typeof momentSchema>): number {
  return typeof moment === "number" ? moment : Date.parse(moment) / 1000;
}
