import {
  deadLetterListSchema,
  journalSchema,
  momentQuerySchema,
} from "@leeward/shared-core/api/operations.ts";
import { unclaimedNodeSchema } from "@leeward/shared-core/api/stations.ts";
import type { FastifyPluginAsyncZod } from "fastify-type-provider-zod";
import { z } from "zod";
import { toRfc3339 } from "../../live/station-service.ts";
import type { ApiContext } from "../context.ts";

const limit = z.coerce.number().int().min(1).max(2000).default(200);

/** What has happened: journal, alarms, dead letters, nodes nobody claims. */
export function recordRoutes(context: ApiContext): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      "/journal",
      {
        schema: {
          summary: "What happened, newest first",
          tags: ["records"],
          querystring: z.object({
            from: momentQuerySchema.optional(),
            to: momentQuerySchema.optional(),
            station: z.string().optional().describe("`<site>.<station>`"),
            limit,
          }),
          response: { 200: journalSchema },
        },
      },
      async (request) => {
        const { from, to, station, limit: most } = request.query;
        const nowS = context.clock.nowS();
        const dot = station?.indexOf(".") ?? -1;
        const records = await context.store.journal({
          from: from ?? nowS - 7 * 86_400,
          to: to ?? nowS + 86_400,
          ...(station === undefined
            ? {}
            : { site: station.slice(0, Math.max(0, dot)), station: station.slice(dot + 1) }),
          limit: most,
        });
        return {
          entries: records.map(({ t, recorded, station: name, ...record }) => ({
            ...record,
            time: toRfc3339(t),
            recorded: toRfc3339(recorded),
            station: name === null ? null : `${record.site}.${name}`,
          })),
        };
      },
    );

    app.get(
      "/dead-letters",
      {
        schema: {
          summary: "Messages that were refused, with the reason, newest first",
          tags: ["records"],
          querystring: z.object({ limit, before: z.coerce.number().int().optional() }),
          response: { 200: deadLetterListSchema },
        },
      },
      async (request) => {
        const { before, limit: most } = request.query;
        const query = before === undefined ? { limit: most } : { limit: most, before };
        const records = await context.store.deadLetters(query);
        return {
          count: await context.store.deadLetterCount(),
          deadLetters: records.map((record) => ({
            ...record,
            received: toRfc3339(record.received),
          })),
        };
      },
    );

    app.get(
      "/nodes/unclaimed",
      {
        schema: {
          summary: "Nodes that no station claims, with what they measure",
          tags: ["records"],
          response: { 200: z.object({ nodes: z.array(unclaimedNodeSchema) }) },
        },
      },
      () => ({ nodes: context.service.unclaimed() }),
    );
  };
}
