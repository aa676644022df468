import { randomBytes } from "node:crypto";
import {
  type NodeView,
  nodeListSchema,
  nodeViewSchema,
  sentCommandSchema,
} from "@leeward/shared-core/api/setup.ts";
import { problemSchema } from "@leeward/shared-core/api/stations.ts";
import { commandName } from "@leeward/shared-core/messages/wire-names.ts";
import type { FastifyPluginAsyncZod } from "fastify-type-provider-zod";
import { z } from "zod";
import { toRfc3339 } from "../../live/station-service.ts";
import type { NodeRecord } from "../../store/store.ts";
import { type ApiContext, requireReady } from "../context.ts";
import { ProblemError } from "../problems.ts";

const params = z.object({ id: z.string().describe("`<site>.<node>`") });
const tags = ["nodes"];
/** A lamp that lights minutes later confuses whoever stands there, s. */
const identifyLifeS = 30;

/** Nodes as they are, whoever they belong to, and the lamp that tells which is which. */
export function nodeListRoutes(context: ApiContext): FastifyPluginAsyncZod {
  const view = (record: NodeRecord): NodeView => {
    const { site, node, status } = record;
    const nowS = context.clock.nowS();
    const firmware = status?.firmware;
    return {
      id: `${site}.${node}`,
      site,
      node,
      state: record.state,
      firmware: typeof firmware === "string" ? firmware : null,
      lastSample: record.lastSample === null ? null : toRfc3339(record.lastSample),
      measured: Object.fromEntries(
        Object.entries(record.latest).map(([channel, [t, value]]) => [
          channel,
          { value, ageS: Math.max(0, nowS - t) },
        ]),
      ),
      owner: context.directory.ownerOf(site, node, Number.MAX_SAFE_INTEGER),
      ...context.service.stood(site, node),
    };
  };
  const find = (id: string): NodeRecord => {
    const [site = "", node = ""] = id.split(".");
    const record = context.service.node(site, node);
    if (!record) {
      throw new ProblemError(
        "not-found",
        `No node ${id} has been heard; an id is <site>.<node>. Check its power, its network and its site's name.`,
      );
    }
    return record;
  };

  return async (app) => {
    app.get(
      "/nodes",
      {
        schema: {
          summary: "All nodes that were heard, with what they measure",
          tags,
          response: { 200: nodeListSchema },
        },
      },
      () => ({ nodes: context.service.nodes().map(view) }),
    );

    app.get(
      "/nodes/:id",
      {
        schema: {
          summary: "One node",
          tags,
          params,
          response: { 200: nodeViewSchema, 404: problemSchema },
        },
      },
      (request) => view(find(request.params.id)),
    );

    app.post(
      "/nodes/:id/identify",
      {
        schema: {
          summary: "Lets the node show itself by its lamp; its answer comes to the journal",
          tags,
          params,
          response: { 202: sentCommandSchema, 404: problemSchema, 503: problemSchema },
        },
      },
      async (request, reply) => {
        requireReady(context);
        const { site, node } = find(request.params.id);
        const id = randomBytes(8).toString("hex");
        const expires = Math.round(context.clock.nowS() + identifyLifeS);
        const command = { id, do: commandName.identify, expires };
        await context.service.command(site, node, command);
        reply.code(202);
        return { id, expires: toRfc3339(expires) };
      },
    );
  };
}
