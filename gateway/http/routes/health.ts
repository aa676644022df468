import { readinessSchema } from "@leeward/shared-core/api/operations.ts";
import type { FastifyPluginAsyncZod } from "fastify-type-provider-zod";
import { z } from "zod";
import type { ApiContext } from "../context.ts";
import { type ProblemKind, problemKinds } from "../problems.ts";

/** Health for supervisors, metrics for whoever collects them. */
export function healthRoutes(context: ApiContext): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      "/healthz",
      {
        schema: {
          summary: "The process lives",
          tags: ["health"],
          response: { 200: z.object({ alive: z.literal(true), version: z.string() }) },
        },
      },
      () => ({ alive: true as const, version: context.version }),
    );

    app.get(
      "/readyz",
      {
        schema: {
          summary: "The gateway takes messages and its estimates are up to date",
          tags: ["health"],
          response: { 200: readinessSchema, 503: readinessSchema },
        },
      },
      (_request, reply) => {
        const readiness = context.readiness();
        reply.code(readiness.ready && readiness.broker ? 200 : 503);
        return readiness;
      },
    );

    app.get(
      "/metrics",
      { schema: { summary: "OpenMetrics", tags: ["health"] } },
      async (_request, reply) => {
        reply.type(context.metrics.contentType);
        return reply.send(await context.metrics.metrics());
      },
    );

    app.get(
      "/problems/:kind",
      { schema: { hide: true, params: z.object({ kind: z.string() }) } },
      (request, reply) => {
        const { kind } = request.params;
        const known = kind in problemKinds ? problemKinds[kind as ProblemKind] : null;
        return reply
          .code(known ? 200 : 404)
          .type("text/plain; charset=utf-8")
          .send(
            known
              ? `${kind} (${known.status}): ${known.title}. See docs/errors.md.\n`
              : "No such problem.\n",
          );
      },
    );
  };
}
