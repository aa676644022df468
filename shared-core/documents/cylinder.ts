import { z } from "zod";
import { compositionSchema, momentSchema, notNegative, positive } from "./common.ts";

const shared = {
  /** ISO 14175 designation, such as `M21-ArC-18`; the composition says what it means. */
  gas: z.string().min(1),
  composition: compositionSchema,
  /** Water volume of one cylinder, L. */
  waterVolumeL: positive,
  /** 1 sigma in percent: stamped 0.5, from a catalogue 2. */
  waterVolumeUPercent: positive.optional(),
  /** Equal cylinders on one header. */
  count: z.int().min(1).max(64).default(1),
  /** Left in the cylinder at change-over, gauge bar. */
  residualBar: notNegative.optional(),
  pricePerFill: notNegative.optional(),
  /** Supplier's batch or lot, for the shielding record. */
  lot: z.string().optional(),
};

/** Cylinder of compressed gas: settled fill pressure (gauge bar) at a temperature (°C). */
export const compressedCylinderSchema = z.looseObject({
  ...shared,
  filledBar: positive,
  filledC: z.number().min(-60).max(80),
});

/** Cylinder filled with liquid CO2, by mass. */
export const liquidCylinderSchema = z.looseObject({
  ...shared,
  filledKg: positive,
  /** Mass present at `asOf`, where it starts part-used. */
  presentKg: notNegative.optional(),
  asOf: momentSchema.optional(),
  /** Where a scale (gross) is fitted. */
  tareKg: positive.optional(),
});

export const cylinderSchema = z
  .union([liquidCylinderSchema, compressedCylinderSchema], {
    error:
      "needs gas, composition, waterVolumeL and either filledBar with filledC, or filledKg for liquid CO2",
  })
  .superRefine((cylinder, context) => {
    if ("filledKg" in cylinder && "filledBar" in cylinder) {
      context.addIssue({
        code: "custom",
        message: "has filledKg (liquid) and filledBar (compressed): give one of them",
      });
    }
    if ("filledKg" in cylinder && cylinder.composition.CO2 !== 1) {
      context.addIssue({
        code: "custom",
        message: "filledKg is for pure CO2 that is filled as a liquid; use filledBar and filledC",
      });
    }
    if (
      "filledBar" in cylinder &&
      cylinder.residualBar !== undefined &&
      cylinder.residualBar >= (cylinder.filledBar as number)
    ) {
      context.addIssue({
        code: "custom",
        path: ["residualBar"],
        message: "is not below filledBar: a full cylinder would count as empty",
      });
    }
  });

export type CylinderDocument = z.infer<typeof cylinderSchema>;
export type CompressedCylinderDocument = z.infer<typeof compressedCylinderSchema>;
export type LiquidCylinderDocument = z.infer<typeof liquidCylinderSchema>;

/** True where the cylinder is filled with liquid CO2. */
export function isLiquidFilled(cylinder: CylinderDocument): cylinder is LiquidCylinderDocument {
  return "filledKg" in cylinder;
}
