import {
  claimEntrySchema,
  jobListSchema,
  lookBackSchema,
} from "@leeward/shared-core/api/look-back.ts";
import { momentQuerySchema } from "@leeward/shared-core/api/operations.ts";
import { problemSchema } from "@leeward/shared-core/api/stations.ts";
import { momentToUnixS } from "@leeward/shared-core/documents/common.ts";
import { type Claim, isNamed } from "@leeward/shared-core/record/claims.ts";
import type { FastifyPluginAsyncZod } from "fastify-type-provider-zod";
import { z } from "zod";
import { jobParts } from "../../ledger/ledger.ts";
import { CLAIMED, jobsOf, lookBack, recordOf, toldJobs } from "../../live/look-back.ts";
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

    app.post(
      "/stations/:id/claims",
      {
        schema: {
          summary: "Gas that flowed without a job is given to a job or a welder, or taken back",
          description:
            "Fills only what nobody had told at the time; a later claim counts before an earlier one. A release undoes the newest claim on each part of its span, so that an earlier one counts again. It is journalled. Giving the same twice changes nothing.",
          tags: ["records"],
          params: idParams,
          body: claimEntrySchema,
          response: { 201: jobListSchema, 404: problemSchema, 409: problemSchema },
        },
      },
      async (request, reply) => {
        const station = findStation(context, request.params.id);
        const { job, welder, by, release } = request.body;
        const span = { from: momentToUnixS(request.body.from), to: momentToUnixS(request.body.to) };
        const nowS = context.clock.nowS();
        if (span.from >= span.to || span.to > nowS) {
          throw new ProblemError(
            "invalid-request",
            "from must lie before to, and to not in the future: only gas that has flowed can be claimed.",
          );
        }
        if (span.to - span.from > longestS) {
          throw new ProblemError("invalid-request", "the span is longer than 8 days: shorten it.");
        }
        const told = (await toldJobs(context.store, station, span)).filter(isNamed);
        const free = jobParts(span, told).filter((part) => part.job === null);
        const { record } = await recordOf(context.store, station, span);
        const some = record.spells.some((spell) =>
          free.some((part) => spell.from < part.to && spell.to > part.from),
        );
        if (!some) {
          throw new ProblemError(
            "nothing-to-do",
            "No gas without a job is on record from then to then: choose another span.",
          );
        }
        const claim: Claim = {
          ...span,
          job: job ?? null,
          welder: welder ?? null,
          by: by ?? null,
          release: release ?? false,
        };
        await context.store.write({
          journal: [
            {
              t: nowS,
              recorded: nowS,
              site: station.site,
              station: station.station,
              node: null,
              kind: CLAIMED,
              detail: { ...claim },
            },
          ],
        });
        reply.code(201);
        return { jobs: await jobsOf(context.store, station, span) };
      },
    );
  };
}
