import { jobListSchema, lookBackSchema } from "@leeward/shared-core/api/look-back.ts";
import { momentQuerySchema } from "@leeward/shared-core/api/operations.ts";
import { problemSchema } from "@leeward/shared-core/api/stations.ts";
import type { FastifyPluginAsyncZod } from "fastify-type-provider-zod";
import { z } from "zod";
import { jobsOf, lookBack } from "../../live/look-back.ts";
import { type ApiContext, findStation } from "../context.ts";
import { ProblemError } from "../problems.ts";
import { idParams } from "./stations.ts";

/** Every second of so long a span is read, s. */
const longestS = 8 * 86_400;
/** An idle node sends a pack a minute; after three it is silent, and that is a gap, s. */
const lateS = 180;
const jobDays = 31;

/** What was, at one station: for a weld that is doubted afterwards. */
export function lookBackRoutes(context: ApiContext): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      "/stations/:id/look-back",
      {
        schema: {
          summary: "Was the gas flow short? The record of a span, with its events, alarms and jobs",
          description:
            "Judged every second against the flow window that held then. What was not recorded never counts as good.",
          tags: ["records"],
          params: idParams,
          querystring: z.object({ from: momentQuerySchema, to: momentQuerySchema }),
          response: { 200: lookBackSchema, 404: problemSchema },
        },
      },
      async (request) => {
        const station = findStation(context, request.params.id);
        const nowS = context.clock.nowS();
        const { from } = request.query;
        // What a node still holds is on its way: the record ends where the newest line stands.
        const lineS = context.service.view(station).estimate?.t ?? 0;
        const heardS = nowS - lineS < lateS ? lineS : nowS;
        const to = Math.min(request.query.to, Math.floor(heardS));
        if (from >= to) {
          throw new ProblemError(
            "invalid-request",
            request.query.to <= from
              ? "from must lie before to."
              : "the span lies in the future: there is no record of it yet.",
          );
        }
        if (to - from > longestS) {
          throw new ProblemError("invalid-request", "the span is longer than 8 days: shorten it.");
        }
        const keptFrom = nowS - context.retention.rawDays * 86_400;
        return lookBack(context.store, station, { from, to }, keptFrom);
      },
    );

    app.get(
      "/stations/:id/jobs",
      {
        schema: {
          summary: "What was welded when, as people said it",
          tags: ["records"],
          params: idParams,
          querystring: z.object({
            from: momentQuerySchema.optional(),
            to: momentQuerySchema.optional(),
          }),
          response: { 200: jobListSchema, 404: problemSchema },
        },
      },
      async (request) => {
        const station = findStation(context, request.params.id);
        const to = request.query.to ?? context.clock.nowS();
        const from = request.query.from ?? to - jobDays * 86_400;
        return { jobs: await jobsOf(context.store, station, { from, to }) };
      },
    );
  };
}
