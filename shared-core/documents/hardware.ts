import { z } from "zod";
import {
  compositionSchema,
  dateSchema,
  notNegative,
  positive,
  ratedForSchema,
  readingUnitSchema,
  referenceSchema,
} from "./common.ts";
import { twoPointFault, twoPointSchema } from "./two-point.ts";

export const regulatorSchema = z.looseObject({
  stages: z.union([z.literal(1), z.literal(2)]),
  adjust: z.enum(["preset", "screw"]).optional(),
  /** Gauge pressure of the line while gas flows at the set reading, bar. */
  deliveryBar: positive.optional(),
  /** Highest line pressure that regulator, hose and torch may see, gauge bar. */
  maxLineBar: positive.optional(),
  /** Relief device of the low side opens here, gauge bar. */
  reliefBar: positive.optional(),
  heated: z.boolean().optional(),
  /** Volume between cylinder valve and seat, mL. */
  highSideMl: positive.optional(),
  ratedFor: ratedForSchema.optional(),
});
export type RegulatorDocument = z.infer<typeof regulatorSchema>;

/** What a bench test found. Parameter names are those that `leeward fit` prints. */
export const deviceFitSchema = z
  .looseObject({
    parameters: z.array(
      z.strictObject({
        name: z.string(),
        value: z.number(),
        sigma: notNegative,
        unit: z.string(),
      }),
    ),
    covariance: z.array(z.array(z.number())).optional(),
    /** What the scale showed when the last setting was made: there the conductance was found. */
    reading: notNegative.optional(),
    date: z.string().optional(),
    meter: z.string().optional(),
  })
  .superRefine((fit, context) => {
    const n = fit.parameters.length;
    if (
      fit.covariance &&
      (fit.covariance.length !== n || fit.covariance.some((r) => r.length !== n))
    ) {
      context.addIssue({
        code: "custom",
        path: ["covariance"],
        message: `must be ${n} by ${n}, a row and a column for each parameter`,
      });
    }
  });
export type DeviceFit = z.infer<typeof deviceFitSchema>;

const scale = {
  readingUnit: readingUnitSchema,
  /** Reference conditions of the scale; CFH means `us`, L/min `metric20` unless stated. */
  scaleReference: referenceSchema.optional(),
  scaleMin: notNegative.optional(),
  scaleMax: positive.optional(),
  /** What it was set to, in its own unit. */
  reading: notNegative.optional(),
  fit: deviceFitSchema.optional(),
};

export const variableAreaSchema = z.looseObject({
  kind: z.literal("variable-area"),
  scaleGas: compositionSchema,
  /** Gauge pressure in the tube for which its scale is true, bar. */
  scaleBar: notNegative,
  scaleC: z.number().min(-50).max(80).optional(),
  valve: z.enum(["after-tube", "before-tube"]),
  float: z.enum(["ball", "shaped"]).optional(),
  readAt: z.enum(["float-top", "float-centre", "float-bottom", "float-widest"]).optional(),
  ...scale,
});

export const orificeGaugeSchema = z.looseObject({
  kind: z.literal("orifice-gauge"),
  scaleGas: compositionSchema,
  scaleC: z.number().min(-50).max(80).optional(),
  orificeMm: positive.optional(),
  cd: positive.max(1).optional(),
  /** One point of the dial: this gauge pressure (bar) reads this flow. */
  scaleReadsAt: z.strictObject({ bar: positive, reading: positive }).optional(),
  ...scale,
});

export const meteredSchema = z.looseObject({
  kind: z.literal("metered"),
  meterGas: compositionSchema.optional(),
  ...scale,
});

export const flowDeviceSchema = z
  .discriminatedUnion("kind", [variableAreaSchema, orificeGaugeSchema, meteredSchema])
  .superRefine((device, context) => {
    if (
      device.scaleMin !== undefined &&
      device.scaleMax !== undefined &&
      device.scaleMin >= device.scaleMax
    ) {
      context.addIssue({
        code: "custom",
        path: ["scaleMax"],
        message: "is not above scaleMin: the scale would have no range",
      });
    }
    if (device.kind === "orifice-gauge") {
      if (device.orificeMm === undefined && device.scaleReadsAt === undefined) {
        context.addIssue({
          code: "custom",
          message: "an orifice gauge needs orificeMm (with optional cd) or scaleReadsAt",
        });
      }
      for (const part of ["scaleBar", "valve", "float", "readAt"]) {
        if (part in device) {
          context.addIssue({
            code: "custom",
            path: [part],
            message: "belongs to a float tube; an orifice gauge has none",
          });
        }
      }
    }
    if (device.kind === "variable-area" && ("orificeMm" in device || "scaleReadsAt" in device)) {
      context.addIssue({
        code: "custom",
        message: "orificeMm and scaleReadsAt belong to an orifice gauge; a float tube has none",
      });
    }
  });
export type FlowDeviceDocument = z.infer<typeof flowDeviceSchema>;
export type VariableAreaDocument = z.infer<typeof variableAreaSchema>;
export type OrificeGaugeDocument = z.infer<typeof orificeGaugeSchema>;
export type MeteredDocument = z.infer<typeof meteredSchema>;

const twoPointMessages = {
  "points-too-close": "is too close to lowIsBar: calibrate over a fifth of the range or more",
  "span-off":
    "differs from highIsBar by more than a fifth of the span: then sensor or wiring is at fault, not its calibration",
} as const;

export const pressureSensorSchema = z
  .looseObject({
    rangeBar: positive,
    /** A limit (sigma = limit/√3) of offset and span together, the same for one sensor over its life. */
    accuracyPercentFs: positive,
    driftPercentFsPerK: notNegative.optional(),
    proofBar: positive.optional(),
    /** Two-point calibration, kept in the node. */
    twoPoint: twoPointSchema.optional(),
    /** Last calibration, and when the next is due; a year later where only the first is given. */
    calibrated: dateSchema.optional(),
    calibrationDue: dateSchema.optional(),
    ratedFor: ratedForSchema.optional(),
  })
  .superRefine((sensor, context) => {
    // What the node refuses is refused where it is written.
    const fault = sensor.twoPoint && twoPointFault(sensor.twoPoint, sensor.rangeBar);
    if (!fault) return;
    const field = fault === "span-off" ? "highReadsBar" : "highIsBar";
    context.addIssue({
      code: "custom",
      path: ["twoPoint", field],
      message: twoPointMessages[fault],
    });
  });
export type PressureSensorDocument = z.infer<typeof pressureSensorSchema>;

export const sensorsSchema = z.looseObject({
  cylinder: pressureSensorSchema.optional(),
  /** Left out where no line sensor is fitted. */
  line: pressureSensorSchema.optional(),
  /** Scale under the cylinder: its counts (in the node's status) under two known masses. */
  scale: z
    .looseObject({
      lowReads: z.number(),
      lowIsKg: notNegative,
      highReads: z.number(),
      highIsKg: positive,
    })
    .optional(),
});
export type SensorsDocument = z.infer<typeof sensorsSchema>;

export const hoseSchema = z.looseObject({ lengthM: positive, boreMm: positive });
