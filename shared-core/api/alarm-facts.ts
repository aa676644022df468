import { z } from "zod";
import { prioritySchema } from "../estimation/estimate.ts";
import { alarmJournalEntrySchema, alarmSchema } from "./alarms.ts";

/** Why a condition is an alarm: its rationalization, as far as the person before it needs it. */
export const alarmConditionSchema = z
  .object({
    condition: z.string(),
    title: z.string(),
    cause: z.string(),
    consequence: z.string(),
    operatorAction: z.string(),
    timeToRespond: z.string(),
    priority: prioritySchema,
    alarmClass: z.enum(["safety", "weld", "gas", "equipment"]),
    limit: z.string(),
    deadband: z.string(),
    onDelayS: z.number(),
    offDelayS: z.number(),
    /** Why these delays. */
    delayReason: z.string(),
    latched: z.boolean(),
    suppresses: z.array(z.string()),
    /** Longest time for which it can be shelved, min. */
    shelveLimitMin: z.int(),
  })
  .meta({ id: "AlarmCondition" });
export type AlarmConditionView = z.infer<typeof alarmConditionSchema>;

export const alarmConditionListSchema = z
  .object({ conditions: z.array(alarmConditionSchema) })
  .meta({ id: "AlarmConditionList" });

/** One occurrence, also one that is over, with all that was noted of it, newest first. */
export const alarmDetailSchema = z
  .object({ alarm: alarmSchema, journal: z.array(alarmJournalEntrySchema) })
  .meta({ id: "AlarmDetail" });
export type AlarmDetail = z.infer<typeof alarmDetailSchema>;
