import { type Language, languageSchema } from "@leeward/shared-core/alarms/language/languages.ts";
import { problemSchema } from "@leeward/shared-core/api/stations.ts";
import {
  benchTestListSchema,
  benchTestSchema,
  benchTestViewSchema,
} from "@leeward/shared-core/bench/bench-test-document.ts";
import { parseBenchCsv } from "@leeward/shared-core/bench/csv-readings.ts";
import { fitDevice } from "@leeward/shared-core/bench/fit-device.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { FastifyPluginAsyncZod } from "fastify-type-provider-zod";
import { z } from "zod";
import type { Clock } from "../clock.ts";
import { ProblemError } from "../http/problems.ts";
import { readIfMatch } from "../http/routes/stations.ts";
import type { BenchStore, BenchTestRecord } from "./bench-store.ts";

export interface BenchRouteContext {
  bench: BenchStore;
  clock: Clock;
  /** Description of a station by its id; null where there is none. */
  station(id: string): StationDocument | null;
}

const params = z.object({ id: z.string().regex(/^[a-z0-9-]{1,64}$/) });
const tags = ["bench"];

/** Bench tests: kept in versions, and their dial card as PDF. The fit itself is the browser's. */
export function benchRoutes(context: BenchRouteContext): FastifyPluginAsyncZod {
  const { bench, clock } = context;
  return async (app) => {
    app.get(
      "/bench/tests",
      {
        schema: {
          summary: "Bench tests, each at its newest version",
          tags,
          response: { 200: benchTestListSchema },
        },
      },
      async () => ({ tests: (await bench.list()).map(view) }),
    );

    app.get(
      "/bench/tests/:id/versions",
      {
        schema: {
          summary: "Every version of a bench test, the newest first",
          tags,
          params,
          response: { 200: benchTestListSchema, 404: problemSchema },
        },
      },
      async (request) => {
        const versions = await bench.versions(request.params.id);
        if (versions.length === 0) {
          throw new ProblemError("not-found", `There is no bench test ${request.params.id}.`);
        }
        return { tests: versions.map(view) };
      },
    );

    app.put(
      "/bench/tests/:id",
      {
        schema: {
          summary: "Keep a bench test; a change adds a version and needs If-Match",
          tags,
          params,
          headers: z.object({ "if-match": z.string().optional() }),
          body: benchTestSchema,
          response: { 200: benchTestViewSchema, 412: problemSchema, 422: problemSchema },
        },
      },
      async (request, reply) => {
        const seen = readIfMatch(request.headers["if-match"]);
        if (seen === "*") {
          throw new ProblemError("invalid-request", 'If-Match must be a version such as "3".');
        }
        const { id } = request.params;
        const nowS = clock.nowS();
        const saved = await bench.save(id, request.body, seen ?? 0, nowS);
        if (!saved.ok) {
          throw new ProblemError(
            "version-conflict",
            `The version here is ${saved.version}: get it, look at what has changed, and save again.`,
          );
        }
        reply.header("etag", `"${saved.version}"`);
        return view({ id, version: saved.version, savedS: nowS, test: request.body });
      },
    );

    app.post(
      "/bench/card",
      {
        schema: {
          summary: "Dial card of a bench test as a one-page PDF",
          tags,
          body: z.object({
            test: benchTestSchema,
            stationUrl: z.url().max(300).optional(),
            language: languageSchema.default("en").describe("Language of the card's words"),
            decimal: z
              .enum([".", ","])
              .optional()
              .describe("Decimal sign; the language's own if left out"),
          }),
        },
      },
      async (request, reply) => {
        const { test, stationUrl, language, decimal } = request.body;
        const pdf = await cardOf(context, test, stationUrl, { language, decimal });
        return reply
          .type("application/pdf")
          .header("content-disposition", 'attachment; filename="dial-card.pdf"')
          .send(pdf);
      },
    );
  };
}

async function cardOf(
  context: BenchRouteContext,
  test: z.infer<typeof benchTestSchema>,
  stationUrl: string | undefined,
  told: { language: Language; decimal: string | undefined },
): Promise<Uint8Array> {
  const station = context.station(test.station);
  if (!station) throw new ProblemError("not-found", `There is no station ${test.station}.`);
  const rows = parseBenchCsv(test.csv, station.cylinder?.composition ?? null);
  if (!rows.ok) {
    throw refusal(rows.faults.join("; "));
  }
  const origin = {
    ...(test.date === "" ? {} : { date: test.date }),
    ...(test.meter === "" ? {} : { meter: test.meter }),
  };
  const answer = fitDevice(station, rows.value, {
    ...(test.targetLpm === null ? {} : { targetLpm: test.targetLpm }),
    ...origin,
  });
  if (!answer.ok) throw refusal(answer.why);
  // Fonts and all: fetched by the first who prints.
  const { dialCardPdf } = await import("../card/dial-card-pdf.ts");
  return dialCardPdf(
    {
      station,
      result: answer.value,
      ...(test.serial === "" ? {} : { serial: test.serial }),
      ...(stationUrl === undefined ? {} : { stationUrl }),
      ...origin,
    },
    told,
  );
}

function refusal(message: string): ProblemError {
  return new ProblemError("invalid-document", message, [{ path: "test.csv", message }]);
}

function view(record: BenchTestRecord) {
  const { id, version, savedS, test } = record;
  return { id, version, saved: new Date(savedS * 1000).toISOString(), test };
}
