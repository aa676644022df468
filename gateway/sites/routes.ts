import { siteViewSchema } from "@leeward/shared-core/api/setup.ts";
import { problemSchema } from "@leeward/shared-core/api/stations.ts";
import { nameSchema } from "@leeward/shared-core/documents/common.ts";
import { siteSchema } from "@leeward/shared-core/documents/station.ts";
import type { FastifyPluginAsyncZod } from "fastify-type-provider-zod";
import { z } from "zod";
import { type ApiContext, requireReady } from "../http/context.ts";
import { ProblemError } from "../http/problems.ts";
import { readIfMatch } from "../http/routes/stations.ts";

const params = z.object({ site: nameSchema });
const tags = ["sites"];

/** The shop: its name, time zone, shifts, currency and units. */
export function siteRoutes(context: ApiContext): FastifyPluginAsyncZod {
  const view = (site: string) => {
    const record = context.service.sites.get(site);
    if (record) return { site, version: record.version, description: record.document };
    // Nobody has said anything yet: what the settings say.
    const { name, timeZone } = context.site;
    const currency = context.service.sites.currencyOf(site) ?? undefined;
    const said = { schema: 1, site, name: name.slice(0, 60), timeZone };
    const description = siteSchema.parse(currency === undefined ? said : { ...said, currency });
    return { site, version: 0, description };
  };

  return async (app) => {
    app.get(
      "/sites/:site",
      {
        schema: {
          summary: "What is said of a shop; version 0 while nobody has said anything",
          tags,
          params,
          response: { 200: siteViewSchema },
        },
      },
      (request, reply) => {
        const answer = view(request.params.site);
        reply.header("etag", `"${answer.version}"`);
        return answer;
      },
    );

    app.put(
      "/sites/:site",
      {
        schema: {
          summary:
            "Says it anew; a new time zone counts for estimates and alarms from the next start",
          tags,
          params,
          headers: z.object({ "if-match": z.string().optional() }),
          body: siteSchema,
          response: {
            200: siteViewSchema,
            201: siteViewSchema,
            412: problemSchema,
            422: problemSchema,
            428: problemSchema,
          },
        },
      },
      async (request, reply) => {
        requireReady(context);
        const { site } = request.params;
        const document = request.body;
        requireSound(site, document);
        const expected = readIfMatch(request.headers["if-match"]);
        const standing = context.service.sites.get(site)?.version ?? 0;
        if (expected === null && standing > 0) {
          throw new ProblemError(
            "precondition-required",
            "It exists already: send If-Match with the version that you have seen (its ETag).",
          );
        }
        const seen = expected === "*" ? standing : (expected ?? 0);
        const saved = await context.service.saveSite(document, seen);
        if (!saved.ok) {
          throw new ProblemError(
            "version-conflict",
            `The version here is ${saved.version}: get it, look at what has changed, and save again.`,
          );
        }
        reply.code(saved.version === 1 ? 201 : 200).header("etag", `"${saved.version}"`);
        return view(site);
      },
    );
  };
}

function requireSound(site: string, document: { site: string; timeZone: string }): void {
  if (document.site !== site) {
    const message = `the document is of ${document.site}, the path says ${site}`;
    throw new ProblemError("invalid-document", `site: ${message}`, [{ path: "site", message }]);
  }
  try {
    new Intl.DateTimeFormat("en", { timeZone: document.timeZone });
  } catch {
    const message = `is "${document.timeZone}"; it must be an IANA time zone, such as Europe/Copenhagen`;
    throw new ProblemError("invalid-document", `timeZone: ${message}`, [
      { path: "timeZone", message },
    ]);
  }
}
