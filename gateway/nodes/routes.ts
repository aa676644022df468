import {
  enrolledNodesSchema,
  enrolNodeSchema,
  issuedCredentialsSchema,
} from "@leeward/shared-core/api/enrolment.ts";
import { problemSchema } from "@leeward/shared-core/api/stations.ts";
import { nameSchema } from "@leeward/shared-core/documents/common.ts";
import type { FastifyPluginAsyncZod } from "fastify-type-provider-zod";
import { z } from "zod";
import type { Clock } from "../clock.ts";
import { ProblemError } from "../http/problems.ts";
import { toRfc3339 } from "../live/station-service.ts";
import type { EnrolmentRecord } from "../store/enrolment-store.ts";
import type { GatewayStore } from "../store/store.ts";
import { Enrolment, userOf } from "./enrolment.ts";
import { provisionOf } from "./provision.ts";

/** How nodes reach the broker, as far as the gateway knows. */
export interface BrokerReach {
  /** True where the broker lets nobody in without credentials. */
  required: boolean;
  /** False for a broker of one's own, which checks logins by itself. */
  embedded: boolean;
  port: number | null;
}

export interface NodeRouteContext {
  store: GatewayStore;
  clock: Clock;
  reach: BrokerReach;
}

const tags = ["nodes"];
const params = z.object({ id: z.string().describe("`<site>.<node>`") });
const headers = z.object({
  authorization: z.string().optional().describe("`Bearer <owner's key>`, once there is an owner"),
});

/** Enrolling nodes: their credentials, shown once. Changing anything takes the owner's key. */
export function nodeRoutes({ store, clock, reach }: NodeRouteContext): FastifyPluginAsyncZod {
  const enrolment = new Enrolment(store.enrolments);

  /** Before there is an owner, whoever is on this machine may; a wider gateway has one. */
  const requireOwner = async (authorization: string | undefined) => {
    if (!(await enrolment.hasOwner())) return;
    const [, key] = /^Bearer (.+)$/i.exec(authorization ?? "") ?? [];
    if (key === undefined || !(await enrolment.isOwner(key))) {
      throw new ProblemError(
        "owner-key-required",
        key === undefined
          ? "This takes the owner's key, as `Authorization: Bearer <key>`."
          : "The owner's key is not right.",
      );
    }
  };

  const journal = (site: string, node: string, kind: string, detail: Record<string, unknown>) => {
    const t = clock.nowS();
    return store.write({ journal: [{ t, recorded: t, site, station: null, node, kind, detail }] });
  };

  return async (app) => {
    app.get(
      "/nodes/enrolled",
      {
        schema: {
          summary: "Nodes with credentials, and whether the broker asks for them; no secrets",
          tags,
          response: { 200: enrolledNodesSchema },
        },
      },
      async () => ({
        nodes: (await enrolment.list()).map(view),
        ownerSet: await enrolment.hasOwner(),
        broker: reach,
      }),
    );

    app.post(
      "/nodes/:id/enrol",
      {
        schema: {
          summary: "Make a node's credentials and the file to put on it; they are shown this once",
          description:
            "Owner only. `again` puts new credentials in the place of those that stand: a node that has the old ones is cut off within seconds.",
          tags,
          params,
          headers,
          body: enrolNodeSchema,
          response: {
            201: issuedCredentialsSchema,
            401: problemSchema,
            404: problemSchema,
            409: problemSchema,
            422: problemSchema,
          },
        },
      },
      async (request, reply) => {
        await requireOwner(request.headers.authorization);
        const { site, node } = nodeOf(request.params.id);
        const { again, place } = request.body;
        const made = await enrolment.enrol(site, node, again, clock.nowS());
        if (!made.ok) throw new ProblemError("nothing-to-do", `${made.message}.`);
        await journal(site, node, "node-enrolled", { again });
        const { credentials } = made;
        reply.code(201).header("cache-control", "no-store");
        return {
          id: `${site}.${node}`,
          user: credentials.user,
          secret: credentials.secret,
          code: credentials.code,
          provision: provisionOf(credentials, place),
        };
      },
    );

    app.post(
      "/nodes/:id/revoke",
      {
        schema: {
          summary: "End a node's credentials, and its session within seconds",
          description: "Owner only.",
          tags,
          params,
          headers,
          response: { 204: z.null(), 401: problemSchema, 404: problemSchema, 409: problemSchema },
        },
      },
      async (request, reply) => {
        await requireOwner(request.headers.authorization);
        const { site, node } = nodeOf(request.params.id);
        const done = await enrolment.revoke(site, node, clock.nowS());
        if (!done.ok) throw new ProblemError("nothing-to-do", `${done.message}.`);
        await journal(site, node, "node-revoked", {});
        return reply.code(204).send(null);
      },
    );
  };
}

function nodeOf(id: string): { site: string; node: string } {
  const [site, node, ...more] = id.split(".");
  const fits = nameSchema.safeParse(site).success && nameSchema.safeParse(node).success;
  if (!fits || more.length > 0) {
    throw new ProblemError("not-found", `There can be no node ${id}; an id is <site>.<node>.`);
  }
  return { site: site!, node: node! };
}

function view(record: EnrolmentRecord) {
  const moment = (seconds: number | null) => (seconds === null ? null : toRfc3339(seconds));
  return {
    id: `${record.site}.${record.node}`,
    user: userOf(record.site, record.node),
    issued: toRfc3339(record.issuedS),
    revoked: moment(record.revokedS),
    lastLogin: moment(record.lastLoginS),
  };
}
