import { alarmSpellListSchema } from "@leeward/shared-core/api/alarm-spells.ts";
import { momentQuerySchema } from "@leeward/shared-core/api/operations.ts";
import { problemSchema } from "@leeward/shared-core/api/stations.ts";
import type { FastifyPluginAsyncZod } from "fastify-type-provider-zod";
import { z } from "zod";
import { type ApiContext, findStation } from "../context.ts";
import { ProblemError } from "../problems.ts";
import { idParams } from "./stations.ts";

/** When which alarm stood at a station: what a chart tints. */
export function alarmSpellRoutes(context: ApiContext): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      "/stations/:id/alarm-spells",
      {
        schema: {
          summary: "When which alarm stood at a station, over and standing ones, oldest first",
          tags: ["alarms"],
          params: idParams,
          querystring: z.object({
            from: momentQuerySchema.optional(),
            to: momentQuerySchema.optional(),
          }),
          response: { 200: alarmSpellListSchema, 404: problemSchema },
        },
      },
      async (request) => {
        const { site, station } = findStation(context, request.params.id);
        const to = request.query.to ?? context.clock.nowS();
        const from = request.query.from ?? to - 3600;
        if (from >= to) throw new ProblemError("invalid-request", "from must lie before to.");
        return { spells: await context.store.alarms.spells({ site, station, from, to }) };
      },
    );
  };
}
