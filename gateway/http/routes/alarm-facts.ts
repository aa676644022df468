import { alarmConditions } from "@leeward/shared-core/alarms/index.ts";
import {
  alarmConditionListSchema,
  alarmDetailSchema,
} from "@leeward/shared-core/api/alarm-facts.ts";
import { problemSchema } from "@leeward/shared-core/api/stations.ts";
import type { FastifyPluginAsyncZod } from "fastify-type-provider-zod";
import { z } from "zod";
import type { AlarmService } from "../../alarms/alarm-service.ts";
import { shelveLimitMin } from "../../alarms/open-alarms.ts";
import { alarmJournalView, alarmView } from "../../alarms/views.ts";
import type { AlarmStore } from "../../store/alarm-store.ts";
import { ProblemError } from "../problems.ts";

/** Why the alarms are alarms, and one occurrence with all that was noted of it. */
export function alarmFactRoutes(context: {
  alarms: AlarmService;
  store: AlarmStore;
}): FastifyPluginAsyncZod {
  const { alarms, store } = context;
  const conditions = alarmConditions.map((one) => ({
    condition: one.condition,
    title: one.title,
    cause: one.cause,
    consequence: one.consequence,
    operatorAction: one.operatorAction,
    timeToRespond: one.timeToRespond,
    priority: one.priority,
    alarmClass: one.alarmClass,
    limit: one.limit,
    deadband: one.deadband,
    onDelayS: one.onDelayS,
    offDelayS: one.offDelayS,
    delayReason: one.delayReason,
    latched: one.latched,
    suppresses: [...one.suppresses],
    shelveLimitMin: shelveLimitMin(one.condition),
  }));
  return async (app) => {
    app.get(
      "/alarms/conditions",
      {
        schema: {
          summary: "Every alarm condition: cause, consequence, what to do, time to respond",
          tags: ["alarms"],
          response: { 200: alarmConditionListSchema },
        },
      },
      () => ({ conditions }),
    );

    app.get(
      "/alarms/:id",
      {
        schema: {
          summary: "One alarm, also one that is over, with its journal: what a message links to",
          tags: ["alarms"],
          params: z.object({ id: z.string().min(1).max(200) }),
          response: { 200: alarmDetailSchema, 404: problemSchema },
        },
      },
      async (request) => {
        const { id } = request.params;
        const standing = alarms.lifeCycle.list().find((one) => one.id === id);
        const stored = standing ? null : await store.occurrence(id);
        const occurrence =
          standing ?? (stored ? { ...stored, shown: stored.state, shelf: null } : null);
        if (!occurrence) throw new ProblemError("not-found", `There is no alarm ${id}.`);
        const journal = await store.journalOf(id);
        return { alarm: alarmView(occurrence), journal: journal.map(alarmJournalView) };
      },
    );
  };
}
