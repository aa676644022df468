import { momentQuerySchema } from "@leeward/shared-core/api/operations.ts";
import {
  historySchema,
  historySeriesQuerySchema,
  problemSchema,
  savedStationSchema,
  stationListSchema,
  stationViewSchema,
} from "@leeward/shared-core/api/stations.ts";
import { describeFaults } from "@leeward/shared-core/documents/parse.ts";
import { stationSchema } from "@leeward/shared-core/documents/station.ts";
import { type UnknownKey, unknownKeys } from "@leeward/shared-core/documents/unknown-keys.ts";
import type { FastifyPluginAsyncZod } from "fastify-type-provider-zod";
import { z } from "zod";
import { alarmView } from "../../alarms/views.ts";
import { stationHistory } from "../../live/history.ts";
import type { SaveResult } from "../../live/station-service.ts";
import { type ApiContext, findStation, requireReady } from "../context.ts";
import { demoFaults } from "../demo-rules.ts";
import { ProblemError } from "../problems.ts";

/** Read beside the schema: an exported description carries its site's time zone along. */
const alsoRead = ["timeZone"];

/** An answer with what to check in the description; without the part where all is known. */
export function withWarnings<T extends object>(
  view: T,
  warnings: UnknownKey[],
): T & { warnings?: UnknownKey[] } {
  return warnings.length === 0 ? view : { ...view, warnings };
}

export const idParams = z.object({ id: z.string().describe("`<site>.<station>`") });

/** Points of a history when nobody asks, and the most there are. */
const defaultPoints = 600;
const mostPoints = 4000;

/** Version in an `If-Match` header: `"3"` or `*`. Throws `invalid-request`. */
export function readIfMatch(header: string | undefined): number | "*" | null {
  if (header === undefined) return null;
  if (header.trim() === "*") return "*";
  const match = /^\s*(?:W\/)?"?(\d+)"?\s*$/.exec(header);
  if (!match) {
    throw new ProblemError("invalid-request", 'If-Match must be a version such as "3", or *.');
  }
  return Number(match[1]);
}

/** Turns what stands against saving into its problem. */
export function requireSaved(result: SaveResult): { created: boolean; version: number } {
  if (result.ok) return result;
  if (result.kind === "faults" || result.kind === "dangerous") {
    const kind = result.kind === "faults" ? "invalid-document" : "dangerous-setup";
    throw new ProblemError(kind, describeFaults(result.faults), result.faults);
  }
  if (result.kind === "version") {
    throw new ProblemError(
      "version-conflict",
      `The version here is ${result.version}: get it, look at what has changed, and save again.`,
    );
  }
  throw new ProblemError(
    "precondition-required",
    "It exists already: send If-Match with the version that you have seen (its ETag).",
  );
}

/** The shop in every list: what Setup says of it, else the settings. */
function shownSite({ site, service }: ApiContext): ApiContext["site"] {
  const document = site.id === undefined ? undefined : service.sites.get(site.id)?.document;
  const assumed = site.id === undefined ? null : service.sites.currencyOf(site.id);
  if (!document) return assumed === null ? site : { ...site, currency: assumed };
  const { name, timeZone, currency } = document;
  return { ...site, name: name ?? site.name, timeZone, ...(currency ? { currency } : {}) };
}

export function stationRoutes(context: ApiContext): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      "/stations",
      {
        schema: {
          summary: "All stations with their latest estimates, and nodes that no station claims",
          tags: ["stations"],
          response: { 200: stationListSchema },
        },
      },
      () => {
        const { ready, state, progress } = context.readiness();
        const ofSite = context.alarms.lifeCycle.list().filter(({ station }) => station === null);
        const list = {
          ...context.service.list(shownSite(context)),
          ...(ofSite.length > 0 ? { siteAlarms: ofSite.map(alarmView) } : {}),
        };
        return ready ? list : { ...list, starting: { state, progress } };
      },
    );

    app.get(
      "/stations/:id",
      {
        schema: {
          summary: "One station: description and latest estimate",
          tags: ["stations"],
          params: idParams,
          response: { 200: stationViewSchema, 404: problemSchema },
        },
      },
      (request, reply) => {
        const view = context.service.view(findStation(context, request.params.id));
        reply.header("etag", `"${view.version}"`);
        return view;
      },
    );

    app.put(
      "/stations/:id",
      {
        schema: {
          summary: "Describe a station, or change its description; binds the node it names",
          tags: ["stations"],
          params: idParams,
          headers: z.object({ "if-match": z.string().optional() }),
          body: stationSchema,
          response: {
            200: savedStationSchema,
            201: savedStationSchema,
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
        if (id !== `${document.site}.${document.station}`) {
          const message = `the document is of ${document.site}.${document.station}, the path says ${id}`;
          throw new ProblemError("invalid-document", message, [{ path: "station", message }]);
        }
        const before = context.directory.station(id)?.document ?? null;
        const ofDemo = demoFaults(document, before, context.clock.speed);
        if (ofDemo.length > 0) {
          throw new ProblemError("invalid-document", describeFaults(ofDemo), ofDemo);
        }
        const expected = readIfMatch(request.headers["if-match"]);
        const { created, version } = requireSaved(await context.service.save(document, expected));
        reply.code(created ? 201 : 200).header("etag", `"${version}"`);
        return withWarnings(
          context.service.view(findStation(context, id)),
          unknownKeys(stationSchema, document, alsoRead),
        );
      },
    );

    app.get(
      "/stations/:id/history",
      {
        schema: {
          summary: "Pressures, temperatures, flow and content over time, at screen resolution",
          tags: ["stations"],
          params: idParams,
          querystring: z.object({
            from: momentQuerySchema.optional(),
            to: momentQuerySchema.optional(),
            points: z.coerce.number().int().min(2).max(mostPoints).default(defaultPoints),
            series: historySeriesQuerySchema.optional(),
          }),
          response: { 200: historySchema, 404: problemSchema },
        },
      },
      async (request) => {
        const station = findStation(context, request.params.id);
        const nowS = context.clock.nowS();
        const to = request.query.to ?? nowS;
        const from = request.query.from ?? to - 3600;
        if (from >= to) throw new ProblemError("invalid-request", "from must lie before to.");
        return stationHistory(context.store, context.directory, station, {
          from,
          to,
          points: request.query.points,
          series: request.query.series,
          nowS,
          ...context.retention,
        });
      },
    );
  };
}
