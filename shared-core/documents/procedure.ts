import { z } from "zod";
import { notNegative, positive } from "./common.ts";

/** What is welded here. Flows are `metric20` L/min of true flow; null means: from the demand tables. */
export const procedureSchema = z
  .looseObject({
    process: z.enum(["GTAW", "GMAW", "FCAW-G"]),
    transfer: z.enum(["short-circuit", "spray", "pulsed"]).optional(),
    material: z.string().optional(),
    thicknessMm: positive.optional(),
    /** GTAW cup number: bore in sixteenths of an inch. */
    cup: positive.optional(),
    gasLens: z.boolean().optional(),
    nozzleBoreMm: positive.optional(),
    wireMm: positive.optional(),
    amps: positive.optional(),
    polarity: z.string().optional(),
    joint: z.string().optional(),
    position: z.string().optional(),
    preflowS: notNegative.optional(),
    postflowS: notNegative.optional(),
    draughtMs: notNegative.optional(),
    standoffMm: positive.optional(),
    minimumLpm: positive.nullish(),
    targetLpm: positive.nullish(),
    maximumLpm: positive.nullish(),
    /** Welding procedure specification and its revision, for the record. */
    wps: z.string().optional(),
  })
  .superRefine((procedure, context) => {
    const { minimumLpm: low, targetLpm: target, maximumLpm: high } = procedure;
    if (
      (low && high && low > high) ||
      (low && target && low > target) ||
      (target && high && target > high)
    ) {
      context.addIssue({
        code: "custom",
        path: ["minimumLpm"],
        message: "minimumLpm, targetLpm and maximumLpm must rise in this order",
      });
    }
    if (procedure.process === "GTAW" && procedure.transfer) {
      context.addIssue({
        code: "custom",
        path: ["transfer"],
        message: "belongs to GMAW; GTAW has no metal transfer",
      });
    }
    if (procedure.process === "GMAW" && procedure.cup !== undefined) {
      context.addIssue({
        code: "custom",
        path: ["cup"],
        message: "cup numbers belong to GTAW; give nozzleBoreMm for GMAW",
      });
    }
  });
export type ProcedureDocument = z.infer<typeof procedureSchema>;
