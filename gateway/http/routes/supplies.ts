import {
  savedSupplySchema,
  supplyListSchema,
  supplyViewSchema,
} from "@leeward/shared-core/api/operations.ts";
import { problemSchema } from "@leeward/shared-core/api/stations.ts";
import { supplySchema } from "@leeward/shared-core/documents/station.ts";
import { unknownKeys } from "@leeward/shared-core/documents/unknown-keys.ts";
import type { FastifyPluginAsyncZod } from "fastify-type-provider-zod";
import { z } from "zod";
import type { SupplyRecord } from "../../live/directory.ts";
import { type ApiContext, requireReady } from "../context.ts";
import { ProblemError } from "../problems.ts";
import { readIfMatch, requireSaved, withWarnings } from "./stations.ts";

const supplyParams = z.object({ id: z.string().describe("`<site>.<supply>`") });

/** Shared supplies: banks and bulk tanks that several stations draw from. */
export function supplyRoutes(context: ApiContext): FastifyPluginAsyncZod {
  const find = (id: string): SupplyRecord => {
    const supply = context.directory.supply(id);
    if (!supply) throw new ProblemError("not-found", `There is no supply ${id}.`);
    return supply;
  };
  const view = ({ id, version, document }: SupplyRecord) => ({
    id,
    version,
    description: document,
  });

  return async (app) => {
    app.get(
      "/supplies",
      {
        schema: {
          summary: "Shared supplies",
          tags: ["supplies"],
          response: { 200: supplyListSchema },
        },
      },
      () => ({ supplies: context.directory.supplies().map(view) }),
    );

    app.get(
      "/supplies/:id",
      {
        schema: {
          summary: "One shared supply",
          tags: ["supplies"],
          params: supplyParams,
          response: { 200: supplyViewSchema, 404: problemSchema },
        },
      },
      (request, reply) => {
        const supply = find(request.params.id);
        reply.header("etag", `"${supply.version}"`);
        return view(supply);
      },
    );

    app.put(
      "/supplies/:id",
      {
        schema: {
          summary: "Describe a shared supply, before the stations that draw from it",
          tags: ["supplies"],
          params: supplyParams,
          headers: z.object({ "if-match": z.string().optional() }),
          body: supplySchema,
          response: {
            200: savedSupplySchema,
            201: savedSupplySchema,
            412: problemSchema,
            422: problemSchema,
            428: problemSchema,
          },
        },
      },
      async (request, reply) => {
        requireReady(context);
        const document = request.body;
        const { id } = request.params;
        if (id !== `${document.site}.${document.supply}`) {
          const message = `the document is of ${document.site}.${document.supply}, the path says ${id}`;
          throw new ProblemError("invalid-document", message, [{ path: "supply", message }]);
        }
        const expected = readIfMatch(request.headers["if-match"]);
        const { created, version } = requireSaved(await context.service.save(document, expected));
        reply.code(created ? 201 : 200).header("etag", `"${version}"`);
        return withWarnings(view(find(id)), unknownKeys(supplySchema, document, ["timeZone"]));
      },
    );
  };
}
