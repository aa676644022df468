import { ledgerSchema } from "@leeward/shared-core/api/ledger.ts";
import { momentQuerySchema } from "@leeward/shared-core/api/operations.ts";
import { nameSchema } from "@leeward/shared-core/documents/common.ts";
import type { FastifyPluginAsyncZod } from "fastify-type-provider-zod";
import { z } from "zod";
import { ledgerRows } from "../../ledger/ledger.ts";
import type { ApiContext } from "../context.ts";
import { ProblemError } from "../problems.ts";

const longestS = 35 * 86_400;

/** Use and cost of gas, and the shielding record that goes with it. */
export function ledgerRoutes(context: ApiContext): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      "/sites/:site/ledger",
      {
        schema: {
          summary: "Gas used and its cost by station and day, week, month or job",
          tags: ["records"],
          params: z.object({ site: nameSchema }),
          querystring: z.object({
            from: momentQuerySchema,
            to: momentQuerySchema,
            by: z.enum(["day", "week", "month", "job"]).default("day"),
          }),
          response: { 200: ledgerSchema },
        },
      },
      async (request) => {
        const { site } = request.params;
        const { from, by } = request.query;
        const nowS = context.clock.nowS();
        const to = Math.min(request.query.to, Math.floor(nowS));
        if (from >= to) throw new ProblemError("invalid-request", "from must lie before to.");
        if (to - from > longestS) {
          throw new ProblemError("invalid-request", "the span is longer than 35 days: shorten it.");
        }
        const { rawDays, minuteDays } = context.retention;
        const kept = {
          zone: context.site.timeZone,
          rawFrom: nowS - rawDays * 86_400,
          minutesFrom: nowS - minuteDays * 86_400,
        };
        const rows = [];
        for (const station of context.directory.stations()) {
          if (station.site !== site) continue;
          rows.push(...(await ledgerRows(context.store, station, { from, to }, by, kept)));
        }
        const currency = context.service.sites.currencyOf(site);
        return { site, currency, from, to, keptFrom: kept.rawFrom, rows };
      },
    );
  };
}
