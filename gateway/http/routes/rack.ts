import {
  byPersonSchema,
  cylinderRecordSchema,
  fitCylinderSchema,
  rackSchema,
  rackSettingsSchema,
} from "@leeward/shared-core/api/rack.ts";
import { problemSchema } from "@leeward/shared-core/api/stations.ts";
import { nameSchema } from "@leeward/shared-core/documents/common.ts";
import type { FastifyPluginAsyncZod } from "fastify-type-provider-zod";
import { z } from "zod";
import type { RackResult, RackService } from "../../rack/rack-service.ts";
import { type ApiContext, findStation, requireReady } from "../context.ts";
import { ProblemError } from "../problems.ts";
import { idParams, readIfMatch } from "./stations.ts";

const tags = ["rack"];
const site = z.object({ site: nameSchema });
const one = z.object({ site: nameSchema, id: z.string().regex(/^[a-z0-9-]{1,64}$/) });
const answers = {
  200: rackSchema,
  404: problemSchema,
  409: problemSchema,
  412: problemSchema,
  422: problemSchema,
};

/** The Rack: cylinders, where they are, changes and their undoing, what to order. */
export function rackRoutes(context: ApiContext, rack: RackService): FastifyPluginAsyncZod {
  const after = async (name: string, result: RackResult) => {
    if (!result.ok) throw new ProblemError(result.kind, `${result.why}.`);
    return rack.view(name);
  };
  return async (app) => {
    app.get(
      "/sites/:site/rack",
      {
        schema: {
          summary: "Cylinders fitted and in store, moves, what to order and by when",
          tags,
          params: site,
          response: { 200: rackSchema },
        },
      },
      (request) => rack.view(request.params.site),
    );

    app.put(
      "/sites/:site/rack/settings",
      {
        schema: {
          summary: "Days from order to delivery, and days that an order is to last",
          tags,
          params: site,
          body: rackSettingsSchema,
          response: answers,
        },
      },
      async (request) => {
        await rack.saveSettings(request.params.site, request.body);
        return rack.view(request.params.site);
      },
    );

    app.put(
      "/sites/:site/rack/cylinders/:id",
      {
        schema: {
          summary: "A cylinder that has arrived; a change needs If-Match",
          tags,
          params: one,
          headers: z.object({ "if-match": z.string().optional() }),
          body: cylinderRecordSchema,
          response: answers,
        },
      },
      async (request) => {
        const seen = readIfMatch(request.headers["if-match"]);
        if (seen === "*") {
          throw new ProblemError("invalid-request", 'If-Match must be a version such as "3".');
        }
        const { id, site: name } = request.params;
        return after(name, await rack.put(name, id, request.body, seen ?? 0));
      },
    );

    app.post(
      "/sites/:site/rack/cylinders/:id/fit",
      {
        schema: {
          summary: "Fitted at a station: the swap is told, its description takes the snapshot",
          tags,
          params: one,
          body: fitCylinderSchema,
          response: answers,
        },
      },
      async (request) => {
        requireReady(context);
        const station = findStation(context, request.body.station);
        const { id, site: name } = request.params;
        return after(name, await rack.fit(id, station, request.body.by));
      },
    );

    app.post(
      "/sites/:site/rack/cylinders/:id/give-back",
      {
        schema: {
          summary: "Given back to its supplier",
          tags,
          params: one,
          body: byPersonSchema,
          response: answers,
        },
      },
      async (request) => {
        const { id, site: name } = request.params;
        return after(name, await rack.giveBack(id, request.body.by));
      },
    );

    app.post(
      "/stations/:id/undo-swap",
      {
        schema: {
          summary: "Takes back the cylinder change told last, within half an hour; journalled",
          tags,
          params: idParams,
          body: byPersonSchema,
          response: answers,
        },
      },
      async (request) => {
        requireReady(context);
        const station = findStation(context, request.params.id);
        return after(station.site, await rack.undo(station, request.body.by));
      },
    );
  };
}
