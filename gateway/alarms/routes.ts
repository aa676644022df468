import {
  acknowledgeSchema,
  alarmJournalSchema,
  alarmListSchema,
  alarmMeasuresSchema,
  alarmSchema,
  alarmStateSchema,
  putBackSchema,
  shelveSchema,
  unshelveSchema,
} from "@leeward/shared-core/api/alarms.ts";
import { momentQuerySchema } from "@leeward/shared-core/api/operations.ts";
import { problemSchema } from "@leeward/shared-core/api/stations.ts";
import type { FastifyPluginAsyncZod } from "fastify-type-provider-zod";
import { z } from "zod";
import type { Clock } from "../clock.ts";
import { ProblemError } from "../http/problems.ts";
import type { AlarmStore } from "../store/alarm-store.ts";
import type { AlarmService } from "./alarm-service.ts";
import type { PersonResult } from "./life-cycle.ts";
import { alarmJournalView, alarmView, putAwayView } from "./views.ts";

export interface AlarmRouteContext {
  alarms: AlarmService;
  store: AlarmStore;
  clock: Clock;
}

const params = z.object({ id: z.string().min(1).max(200) });
const answers = { 200: alarmSchema, 404: problemSchema, 409: problemSchema, 422: problemSchema };

/** Alarms: what stands, and what people do about it. */
export function alarmRoutes(context: AlarmRouteContext): FastifyPluginAsyncZod {
  const { alarms, clock, store } = context;
  const { lifeCycle } = alarms;
  return async (app) => {
    app.get(
      "/alarms",
      {
        schema: {
          summary:
            "Every alarm that is not normal, the loudest first, and what is put away besides",
          description:
            "States after IEC 62682 / ISA-18.2. Leeward is no oxygen or CO2 monitor and no safety device.",
          tags: ["alarms"],
          querystring: z.object({ state: alarmStateSchema.optional() }),
          response: { 200: alarmListSchema },
        },
      },
      (request) => {
        const { state } = request.query;
        const wanted = (one: string) => state === undefined || one === state;
        return {
          alarms: lifeCycle
            .list()
            .map(alarmView)
            .filter((one) => wanted(one.state)),
          putAway: lifeCycle
            .putAway()
            .map(putAwayView)
            .filter((one) => wanted(one.kind)),
        };
      },
    );

    app.post(
      "/alarms/put-back",
      {
        schema: {
          summary:
            "Back from the shelf, or back into service, by station and condition: also where no alarm stands",
          tags: ["alarms"],
          body: putBackSchema,
          response: { 200: alarmListSchema, 404: problemSchema },
        },
      },
      async (request) => {
        const { site, station, condition, by } = request.body;
        const name = station?.startsWith(`${site}.`) ? station.slice(site.length + 1) : station;
        const part = { site, station: name, condition };
        if (!(await lifeCycle.putBack(part, by, clock.nowS()))) {
          throw new ProblemError(
            "not-found",
            `${condition} of ${station ?? site} is neither shelved nor out of service.`,
          );
        }
        return {
          alarms: lifeCycle.list().map(alarmView),
          putAway: lifeCycle.putAway().map(putAwayView),
        };
      },
    );

    app.get(
      "/alarms/journal",
      {
        schema: {
          summary: "What alarms and people did, newest first; never edited",
          tags: ["alarms"],
          querystring: z.object({
            from: momentQuerySchema.optional(),
            to: momentQuerySchema.optional(),
            limit: z.coerce.number().int().min(1).max(2000).default(200),
          }),
          response: { 200: alarmJournalSchema },
        },
      },
      async (request) => {
        const nowS = clock.nowS();
        const entries = await store.journal({
          from: request.query.from ?? nowS - 7 * 86_400,
          to: request.query.to ?? nowS + 86_400,
          limit: request.query.limit,
        });
        return { entries: entries.map(alarmJournalView) };
      },
    );

    app.get(
      "/alarms/measures",
      {
        schema: {
          summary: "How well the alarms do: rates, floods, chattering, stale, with benchmarks",
          tags: ["alarms"],
          querystring: z.object({ days: z.coerce.number().min(1).max(366).default(7) }),
          response: { 200: alarmMeasuresSchema },
        },
      },
      (request) => alarms.measures(request.query.days),
    );

    app.post(
      "/alarms/:id/acknowledge",
      {
        schema: {
          summary: "A person has seen it; ends its escalation",
          tags: ["alarms"],
          params,
          body: acknowledgeSchema,
          response: answers,
        },
      },
      async (request) => {
        const { by, note } = request.body;
        return said(await lifeCycle.acknowledge(request.params.id, by, note, clock.nowS()));
      },
    );

    app.post(
      "/alarms/:id/shelve",
      {
        schema: {
          summary: "Off the list for a time; it comes back by itself",
          tags: ["alarms"],
          params,
          body: shelveSchema,
          response: answers,
        },
      },
      async (request) =>
        said(await lifeCycle.shelve(request.params.id, request.body, clock.nowS())),
    );

    app.post(
      "/alarms/:id/unshelve",
      {
        schema: {
          summary: "Back from the shelf, or back into service",
          tags: ["alarms"],
          params,
          body: unshelveSchema,
          response: answers,
        },
      },
      async (request) =>
        said(await lifeCycle.unshelve(request.params.id, request.body.by, clock.nowS())),
    );

    app.post(
      "/alarms/:id/out-of-service",
      {
        schema: {
          summary: "Maintenance: out of service until a person ends it with unshelve",
          tags: ["alarms"],
          params,
          body: acknowledgeSchema,
          response: answers,
        },
      },
      async (request) =>
        said(await lifeCycle.takeOutOfService(request.params.id, request.body, clock.nowS())),
    );
  };
}

function said(result: PersonResult) {
  if (result.ok) return alarmView(result.occurrence);
  if (result.code === "not-found") throw new ProblemError("not-found", `${result.message}.`);
  if (result.code === "limit") {
    throw new ProblemError("invalid-document", `${result.message}.`, [
      { path: "body.minutes", message: result.message },
    ]);
  }
  throw new ProblemError("nothing-to-do", `${result.message}.`);
}
