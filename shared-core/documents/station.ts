import { z } from "zod";
import { languageSchema } from "../alarms/language/languages.ts";
import { weeklySpanSchema } from "./calendar.ts";
import { nameSchema, notNegative, positive } from "./common.ts";
import { cylinderSchema } from "./cylinder.ts";
import { flowDeviceSchema, hoseSchema, regulatorSchema, sensorsSchema } from "./hardware.ts";
import { procedureSchema } from "./procedure.ts";

/** The shop or room around a station, for the well-mixed room check. */
export const placeSchema = z.looseObject({
  roomM3: positive.optional(),
  airChangesPerHour: notNegative.optional(),
  confined: z.boolean().optional(),
});

/** The owner's own figures for what gas, starts and post-flow cost; in the site's currency. */
export const costsSchema = z.looseObject({
  startsPerDay: notNegative.optional(),
  workdaysPerYear: notNegative.max(366).optional(),
  /** Price of one cubic metre (`metric20`); from `pricePerFill` where absent. */
  gasPerM3: notNegative.optional(),
  /** Tungsten and cup together, and the stops that they last. */
  consumablePrice: notNegative.optional(),
  consumableStops: notNegative.optional(),
});

/** One welding place with one torch. Pressures are gauge bar; flows `metric20` L/min unless named. */
export const stationSchema = z
  .looseObject({
    schema: z.literal(1),
    station: nameSchema,
    site: nameSchema,
    /** What people call it, such as "Slipway 2"; the station's name where absent. */
    name: z.string().max(60).optional(),
    node: nameSchema.nullish(),
    supply: nameSchema.nullish(),
    altitudeM: z.number().min(-500).max(6000).optional(),
    place: placeSchema.optional(),
    cylinder: cylinderSchema.nullish(),
    regulator: regulatorSchema.nullish(),
    flowDevice: flowDeviceSchema.nullish(),
    lineTap: z.enum(["regulator-outlet", "hose"]).optional(),
    hose: hoseSchema.optional(),
    sensors: sensorsSchema.optional(),
    procedure: procedureSchema.optional(),
    changeover: z.looseObject({ minutes: positive }).optional(),
    costs: costsSchema.optional(),
    /** When the node's power is off by plan; the site's calendar where absent. */
    plannedOff: z.array(weeklySpanSchema).optional(),
    /** Simulated: shown as virtual wherever it appears. */
    virtual: z.boolean().optional(),
  })
  .superRefine((station, context) => {
    if (station.supply && station.cylinder) {
      context.addIssue({
        code: "custom",
        path: ["cylinder"],
        message: `the gas comes from supply ${station.supply}, so the station has no cylinder of its own: leave one of them out`,
      });
    }
    if (!station.supply && !station.cylinder) {
      context.addIssue({
        code: "custom",
        path: ["cylinder"],
        message: "is missing: give a cylinder, or name the supply that feeds this station",
      });
    }
    const max = station.regulator?.maxLineBar;
    const delivery = station.regulator?.deliveryBar;
    if (max !== undefined && delivery !== undefined && delivery >= max) {
      context.addIssue({
        code: "custom",
        path: ["regulator", "maxLineBar"],
        message: `is ${max} bar, not above the delivery pressure of ${delivery} bar`,
      });
    }
    const range = station.sensors?.line?.rangeBar;
    if (range !== undefined && delivery !== undefined && range < delivery) {
      context.addIssue({
        code: "custom",
        path: ["sensors", "line", "rangeBar"],
        message: `is ${range} bar, below the delivery pressure of ${delivery} bar: the sensor would be over its range`,
      });
    }
    const cylinder = station.cylinder;
    const high = station.sensors?.cylinder?.rangeBar;
    if (cylinder && high !== undefined && "filledBar" in cylinder) {
      const filled = cylinder.filledBar as number;
      if (high < filled) {
        context.addIssue({
          code: "custom",
          path: ["sensors", "cylinder", "rangeBar"],
          message: `is ${high} bar, below the fill pressure of ${filled} bar`,
        });
      }
    }
  });
export type StationDocument = z.infer<typeof stationSchema>;

/** What gas comes from: a cylinder, a bank or a bulk tank, with the stations that draw from it. */
export const supplySchema = z
  .looseObject({
    schema: z.literal(1),
    supply: nameSchema,
    site: nameSchema,
    node: nameSchema.nullish(),
    kind: z.enum(["cylinder", "bank", "bulk"]),
    cylinder: cylinderSchema,
    reserve: cylinderSchema.nullish(),
    regulator: regulatorSchema.nullish(),
    sensors: sensorsSchema.optional(),
    altitudeM: z.number().min(-500).max(6000).optional(),
    drops: z.array(nameSchema).min(1),
  })
  .superRefine((supply, context) => {
    if (new Set(supply.drops).size !== supply.drops.length) {
      context.addIssue({ code: "custom", path: ["drops"], message: "names a station twice" });
    }
  });
export type SupplyDocument = z.infer<typeof supplySchema>;

/** The shop: time zone, shifts, currency, units, contacts, quiet hours. */
export const siteSchema = z.looseObject({
  schema: z.literal(1),
  site: nameSchema,
  name: z.string().max(60).optional(),
  timeZone: z.string().default("UTC"),
  currency: z.string().length(3).optional(),
  /** Language of texts that reach people without a screen of their own; English where left out. */
  language: languageSchema.optional(),
  units: z
    .looseObject({
      flow: z.enum(["L/min", "CFH"]).optional(),
      pressure: z.enum(["bar", "psi", "kPa"]).optional(),
      temperature: z.enum(["C", "F"]).optional(),
      reference: z.enum(["us", "trade", "iso", "normal", "metric20"]).optional(),
    })
    .optional(),
  calendar: z
    .looseObject({
      /** When people work: what is declared for a job ends with the shift. */
      shifts: z.array(weeklySpanSchema).optional(),
      /** When the main switch is off: nodes are silent by plan. */
      powerOff: z.array(weeklySpanSchema).optional(),
    })
    .optional(),
});
export type SiteDocument = z.infer<typeof siteSchema>;
