import { z } from "zod";
import { prioritySchema } from "../estimation/estimate.ts";

/** From when to when a condition held at one station; `to` is null while it still does. Unix seconds. */
export const alarmSpellSchema = z
  .object({
    condition: z.string(),
    priority: prioritySchema,
    title: z.string(),
    from: z.number(),
    to: z.number().nullable(),
  })
  .meta({ id: "AlarmSpell" });
export type AlarmSpell = z.infer<typeof alarmSpellSchema>;

export const alarmSpellListSchema = z
  .object({ spells: z.array(alarmSpellSchema) })
  .meta({ id: "AlarmSpellList" });
