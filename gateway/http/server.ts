import { existsSync } from "node:fs";
import { join } from "node:path";
import helmet from "@fastify/helmet";
import fastifyStatic from "@fastify/static";
import swagger from "@fastify/swagger";
import Fastify, { type FastifyError, type FastifyInstance, type FastifyReply } from "fastify";
import {
  hasZodFastifySchemaValidationErrors,
  jsonSchemaTransform,
  jsonSchemaTransformObject,
  serializerCompiler,
  validatorCompiler,
} from "fastify-type-provider-zod";
import { alarmRoutes } from "../alarms/routes.ts";
import { benchRoutes } from "../bench/routes.ts";
import type { Logger } from "../log.ts";
import { type BrokerReach, nodeRoutes } from "../nodes/routes.ts";
import { notifyRoutes } from "../notify/routes.ts";
import { RackService } from "../rack/rack-service.ts";
import { siteRoutes } from "../sites/routes.ts";
import type { ApiContext } from "./context.ts";
import { ProblemError, type ProblemKind, problemBody } from "./problems.ts";
import { alarmFactRoutes } from "./routes/alarm-facts.ts";
import { alarmSpellRoutes } from "./routes/alarm-spells.ts";
import { eventRoutes } from "./routes/events.ts";
import { healthRoutes } from "./routes/health.ts";
import { labelRoutes } from "./routes/labels.ts";
import { ledgerRoutes } from "./routes/ledger.ts";
import { lookBackRoutes } from "./routes/look-back.ts";
import { nodeListRoutes } from "./routes/nodes.ts";
import { rackRoutes } from "./routes/rack.ts";
import { recordRoutes } from "./routes/records.ts";
import { sayRoutes } from "./routes/say.ts";
import { stationRoutes } from "./routes/stations.ts";
import { supplyRoutes } from "./routes/supplies.ts";

/** Largest request body, bytes: a description has a few kilobytes. */
const bodyLimit = 262_144;

/** Habits change by the day; an hour of them is soon made up for, s. */
const keepHabitsS = 3600;

/** Sent with every answer, the hijacked event stream included. */
export const securityHeaders: Readonly<Record<string, string>> = {
  "x-content-type-options": "nosniff",
  "x-frame-options": "SAMEORIGIN",
  "referrer-policy": "no-referrer",
  "cross-origin-resource-policy": "same-origin",
};

/** The HTTP side: API, dashboard, health. Listening is the caller's. */
export async function createHttpServer(
  context: ApiContext,
  options: { dashboardDir: string; log: Logger; loopbackOnly: boolean; reach?: BrokerReach },
): Promise<FastifyInstance> {
  const app = Fastify({
    bodyLimit,
    forceCloseConnections: true,
    routerOptions: { maxParamLength: 200 },
    // A path that cannot even be decoded meets no route, and so no error handler.
    frameworkErrors: (error, _request, reply) => sendProblem(reply, error, options.log),
  });
  // The API takes JSON alone; a text body would reach the schemas as one long string.
  app.removeContentTypeParser("text/plain");
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);
  app.setErrorHandler((error: FastifyError, _request, reply) => {
    sendProblem(reply, error, options.log);
  });
  await app.register(helmet, {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'self'"],
        // uPlot places its parts by style attributes.
        styleSrc: ["'self'", "'unsafe-inline'"],
        imgSrc: ["'self'", "data:", "blob:"],
        connectSrc: ["'self'"],
        workerSrc: ["'self'"],
        manifestSrc: ["'self'"],
        objectSrc: ["'none'"],
        baseUri: ["'self'"],
        formAction: ["'self'"],
        frameAncestors: ["'self'"],
      },
    },
    // Plain HTTP on loopback and in the shop's network: TLS is the proxy's in front of it.
    hsts: false,
    originAgentCluster: false,
    crossOriginOpenerPolicy: false,
  });
  await app.register(swagger, {
    openapi: {
      openapi: "3.1.0",
      info: {
        title: "Leeward",
        description:
          "Shielding-gas monitor for welding shops. Times are RFC 3339; inside estimates and history they are Unix seconds. Litres and L/min are metric20 (20 °C, 101.325 kPa). Errors are RFC 9457 problem details.",
        version: context.version,
      },
    },
    transform: jsonSchemaTransform,
    transformObject: jsonSchemaTransformObject,
  });
  app.addHook("onRequest", async (request) => {
    refuseForeign(request.headers, request.method, options.loopbackOnly);
  });
  app.register(stationRoutes(context), { prefix: "/api/v1" });
  app.register(alarmSpellRoutes(context), { prefix: "/api/v1" });
  app.register(supplyRoutes(context), { prefix: "/api/v1" });
  const rack = new RackService({
    rack: context.store.rack,
    store: context.store,
    clock: context.clock,
    stations: () => context.directory.stations(),
    supply: (id) => context.directory.supply(id),
    service: context.service,
  });
  const stopKeeping = context.clock.every(keepHabitsS, () => {
    rack
      .keepHabits()
      .catch((error: unknown) =>
        options.log.error({ error: String(error) }, "habits of the rack were not kept"),
      );
  });
  app.addHook("onClose", async () => stopKeeping());
  app.register(sayRoutes(context, rack), { prefix: "/api/v1" });
  app.register(rackRoutes(context, rack), { prefix: "/api/v1" });
  app.register(recordRoutes(context), { prefix: "/api/v1" });
  app.register(siteRoutes(context), { prefix: "/api/v1" });
  app.register(nodeListRoutes(context), { prefix: "/api/v1" });
  app.register(labelRoutes(context), { prefix: "/api/v1" });
  app.register(lookBackRoutes(context), { prefix: "/api/v1" });
  app.register(ledgerRoutes(context), { prefix: "/api/v1" });
  app.register(eventRoutes(context), { prefix: "/api/v1" });
  const { alarms, store, clock } = context;
  app.register(alarmRoutes({ alarms, store: store.alarms, clock }), { prefix: "/api/v1" });
  app.register(alarmFactRoutes({ alarms, store: store.alarms }), { prefix: "/api/v1" });
  const { notifier } = alarms;
  app.register(notifyRoutes({ notifier, outbox: store.outbox, clock }), { prefix: "/api/v1" });
  const station = (id: string) => context.directory.station(id)?.document ?? null;
  const reach = options.reach ?? { required: false, embedded: true, port: null };
  app.register(nodeRoutes({ store, clock, reach }), { prefix: "/api/v1" });
  app.register(benchRoutes({ bench: store.bench, clock, station }), { prefix: "/api/v1" });
  app.register(healthRoutes(context));
  app.get("/api/v1/openapi.json", { schema: { hide: true } }, () => app.swagger());
  await serveDashboard(app, options.dashboardDir);
  return app;
}

/**
 * A page elsewhere must not reach a gateway that trusts whoever is on this machine: neither by a
 * name that its owner points at 127.0.0.1, nor by a form.
 */
function refuseForeign(
  headers: { host?: string; "sec-fetch-site"?: string | string[] },
  method: string,
  loopbackOnly: boolean,
): void {
  const host = (headers.host ?? "").replace(/:\d+$/, "").toLowerCase();
  const local =
    ["localhost", "127.0.0.1", "[::1]", ""].includes(host) || host.endsWith(".localhost");
  if (loopbackOnly && !local) {
    throw new ProblemError(
      "forbidden-origin",
      `the gateway answers on this machine only, as localhost or 127.0.0.1, not as ${host}`,
    );
  }
  const site = headers["sec-fetch-site"];
  if (method !== "GET" && method !== "HEAD" && (site === "cross-site" || site === "same-site")) {
    throw new ProblemError("forbidden-origin", "a page of another origin must not change anything");
  }
}

function sendProblem(reply: FastifyReply, error: FastifyError | ProblemError, log: Logger): void {
  let kind: ProblemKind = "internal-error";
  let detail = "The log says more.";
  let faults: { path: string; message: string }[] | undefined;
  if (error instanceof ProblemError) {
    ({ kind, faults } = error);
    detail = error.message;
  } else if (hasZodFastifySchemaValidationErrors(error)) {
    const part = error.validationContext ?? "request";
    kind = part === "body" ? "invalid-document" : "invalid-request";
    faults = error.validation.map((issue) => ({
      // A body is a document: its paths are those of the document itself.
      path: [...(part === "body" ? [] : [part]), ...issue.instancePath.split("/").filter(Boolean)]
        .join(".")
        .replace(/^$/, "(document)"),
      message: issue.message ?? "is not valid",
    }));
    detail = faults.map((fault) => `${fault.path}: ${fault.message}`).join("; ");
  } else if (error.statusCode === 413) {
    kind = "payload-too-large";
    detail = `The body may have ${bodyLimit} bytes at most.`;
  } else if (error.statusCode === 415) {
    kind = "unsupported-media-type";
    detail = "Send the body as application/json.";
  } else if (error.statusCode !== undefined && error.statusCode < 500) {
    kind = "invalid-request";
    detail = error.message;
  } else {
    log.error({ stack: error.stack }, "request failed");
  }
  const body = problemBody(kind, detail, faults);
  if (body.status === 401) reply.header("www-authenticate", 'Bearer realm="leeward"');
  reply.code(body.status).type("application/problem+json").send(JSON.stringify(body));
}

/** Files that are missing are missing; anything else is a page, and ids of stations hold a dot. */
const assetPath = /^\/assets\/|\.(?:js|css|map|json|webmanifest|png|svg|ico|txt|woff2?)$/;

/** The methods that have a route of their own at this path; files and pages are none. */
function methodsAt(app: FastifyInstance, path: string): string[] {
  return (["GET", "HEAD", "POST", "PUT", "DELETE"] as const).filter((method) => {
    const found = app.findRoute({ method, url: path });
    return found !== null && !("*" in found.params);
  });
}

async function serveDashboard(app: FastifyInstance, directory: string): Promise<void> {
  const built = existsSync(join(directory, "index.html"));
  if (built) {
    await app.register(fastifyStatic, {
      root: directory,
      // Names of assets carry a hash; the pages themselves are asked for anew.
      setHeaders(reply, path) {
        reply.header(
          "cache-control",
          path.includes("/assets/") ? "public, max-age=31536000, immutable" : "no-cache",
        );
      },
    });
  }
  // Messages link to this; pages of the dashboard are told apart behind the `#`.
  app.get<{ Params: { id: string } }>("/alarms/:id", { schema: { hide: true } }, (request, reply) =>
    reply.redirect(`../#/alarms/${encodeURIComponent(request.params.id)}`),
  );
  app.get("/alarms", { schema: { hide: true } }, (_request, reply) => reply.redirect("./#/alarms"));
  app.setNotFoundHandler((request, reply) => {
    const path = request.url.split("?")[0] ?? "";
    const allowed = methodsAt(app, path);
    if (allowed.length > 0) {
      const body = problemBody(
        "method-not-allowed",
        `${path} answers to ${allowed.join(", ")}, not to ${request.method}.`,
      );
      return reply
        .code(body.status)
        .header("allow", allowed.join(", "))
        .type("application/problem+json")
        .send(JSON.stringify(body));
    }
    const wantsPage =
      request.method === "GET" && !path.startsWith("/api/") && !assetPath.test(path);
    if (wantsPage && built) return reply.sendFile("index.html");
    if (wantsPage) {
      return reply
        .code(503)
        .type("text/plain; charset=utf-8")
        .send(
          "The dashboard has not been built. Run `npm run build`, then start the gateway again. The API works: /api/v1/stations\n",
        );
    }
    const body = problemBody("not-found", `There is nothing at ${path}.`);
    return reply.code(404).type("application/problem+json").send(JSON.stringify(body));
  });
}
