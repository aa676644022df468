import { z } from "zod";
import { compositionSchema, notNegative, positive } from "../documents/common.ts";

/** Cylinders of a shop: fitted, in store, gone. Pressures are gauge bar; litres `metric20`. */

const day = z.iso.date();
const person = z.string().trim().min(1).max(60);

/** What stands on a cylinder and its label. */
export const cylinderRecordSchema = z
  .strictObject({
    serial: z.string().trim().min(1).max(60),
    lot: z.string().max(80).default(""),
    /** ISO 14175 designation. */
    gas: z.string().min(1).max(40),
    composition: compositionSchema,
    waterVolumeL: positive.max(20_000),
    waterVolumeUPercent: positive.optional(),
    /** Settled fill pressure at `filledC`, or for liquid CO2 the filling in kg. */
    filledBar: positive.max(400).optional(),
    filledC: z.number().min(-60).max(80).optional(),
    filledKg: positive.optional(),
    tareKg: positive.optional(),
    residualBar: notNegative.optional(),
    pricePerFill: notNegative.optional(),
    supplier: z.string().max(80).default(""),
    filledOn: day.optional(),
    /** Day until which the cylinder's test holds. */
    testedUntil: day.optional(),
  })
  .superRefine((record, context) => {
    if ((record.filledBar === undefined) === (record.filledKg === undefined)) {
      context.addIssue({
        code: "custom",
        path: ["filledBar"],
        message: "give filledBar (compressed gas) or filledKg (liquid CO2), one of them",
      });
    }
    if (record.filledKg !== undefined && record.composition.CO2 !== 1) {
      context.addIssue({
        code: "custom",
        path: ["filledKg"],
        message: "is for pure CO2 that is filled as a liquid; give filledBar",
      });
    }
  })
  .meta({ id: "CylinderRecord" });
export type CylinderRecord = z.infer<typeof cylinderRecordSchema>;

export const cylinderPlaceSchema = z.enum(["store", "fitted", "used", "gone"]);

export const rackCylinderSchema = z
  .object({
    id: z.string(),
    version: z.int(),
    record: cylinderRecordSchema,
    /** `store`: full, in store; `used`: taken off, waits for its supplier; `gone`: given back. */
    place: cylinderPlaceSchema,
    /** Where it is fitted, `<site>.<station>`. */
    station: z.string().nullable(),
    since: z.string(),
    /** What it holds when full; null where the description does not allow to say. */
    fullLitres: z.number().nullable(),
  })
  .meta({ id: "RackCylinder" });
export type RackCylinder = z.infer<typeof rackCylinderSchema>;

export const rackMoveSchema = z
  .object({
    time: z.string(),
    kind: z.enum(["arrived", "changed", "fitted", "taken-off", "given-back", "undone"]),
    cylinder: z.string().nullable(),
    serial: z.string().nullable(),
    lot: z.string().nullable(),
    station: z.string().nullable(),
    by: z.string().nullable(),
  })
  .meta({ id: "RackMove" });
export type RackMove = z.infer<typeof rackMoveSchema>;

export const reorderSchema = z
  .object({
    gas: z.string(),
    inStore: z.int(),
    /** Stations of this gas of which nobody can say when they run out. */
    unknown: z.int(),
    /** By habit, Unix s: first change-over that finds no full cylinder in store; null: not foreseen. */
    outOfStock: z.number().nullable(),
    /** Day to order by: the lead time before it. */
    orderBy: z.number().nullable(),
    /** Cylinders that the coming `coverDays` want beyond those in store. */
    order: z.int(),
  })
  .meta({ id: "Reorder" });

export const rackSchema = z
  .object({
    site: z.string(),
    currency: z.string().nullable(),
    leadDays: z.number(),
    coverDays: z.number(),
    cylinders: z.array(rackCylinderSchema),
    reorder: z.array(reorderSchema),
    moves: z.array(rackMoveSchema),
    /** Changes that can still be taken back: station and until when (RFC 3339). */
    undoable: z.array(z.object({ station: z.string(), until: z.string() })),
  })
  .meta({ id: "Rack" });
export type Rack = z.infer<typeof rackSchema>;

export const fitCylinderSchema = z.strictObject({ station: z.string(), by: person });
export const byPersonSchema = z.strictObject({ by: person });
export const rackSettingsSchema = z.strictObject({
  leadDays: z.number().min(0).max(60),
  coverDays: z.number().min(1).max(90),
});
