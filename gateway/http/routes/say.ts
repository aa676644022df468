import { createHash } from "node:crypto";
import { entryReceiptSchema } from "@leeward/shared-core/api/operations.ts";
import { problemSchema } from "@leeward/shared-core/api/stations.ts";
import type { PersonEntry } from "@leeward/shared-core/estimation/engine.ts";
import {
  jobEntrySchema,
  leakTestEntrySchema,
  purgeEntrySchema,
  readingEntrySchema,
  swapEntrySchema,
} from "@leeward/shared-core/messages/person-entry.ts";
import type { FastifyPluginAsyncZod } from "fastify-type-provider-zod";
import { z } from "zod";
import { toRfc3339 } from "../../live/station-service.ts";
import type { RackService } from "../../rack/rack-service.ts";
import { type ApiContext, findStation, requireReady } from "../context.ts";
import { ProblemError } from "../problems.ts";
import { idParams } from "./stations.ts";

const headers = z.object({
  "idempotency-key": z
    .string()
    .min(1)
    .max(120)
    .optional()
    .describe("A text of the client's making; a repeat with the same key counts once"),
});

const kinds = {
  swap: {
    summary: "A cylinder was changed; an empty object means the same kind, full",
    body: swapEntrySchema,
    entry: (body: unknown): PersonEntry => ({ swap: body as PersonEntry["swap"] }),
  },
  reading: {
    summary: "What the float or gauge shows now, in the device's own unit",
    body: readingEntrySchema,
    entry: (body: unknown): PersonEntry => body as PersonEntry,
  },
  purge: {
    summary: "A purge is declared, or ends",
    body: purgeEntrySchema,
    entry: (body: unknown): PersonEntry => ({ purge: body as PersonEntry["purge"] }),
  },
  job: {
    summary: "What is welded now",
    body: jobEntrySchema,
    entry: (body: unknown): PersonEntry => ({ job: body as PersonEntry["job"] }),
  },
  "leak-test": {
    summary:
      "A ten-minute leak test starts: cylinder valve closed, torch shut, regulator open or shut; or it is given up",
    body: leakTestEntrySchema,
    entry: (body: unknown): PersonEntry => ({ leakTest: body as PersonEntry["leakTest"] }),
  },
} as const;

/** What people say of a station; each entry counts once, however often it is sent. */
export function sayRoutes(context: ApiContext, rack: RackService): FastifyPluginAsyncZod {
  /** Requests under way, so that a repeat that overtakes its original waits for it. */
  const underWay = new Map<string, Promise<unknown>>();

  const once = async (
    key: string,
    request: string,
    work: () => Promise<{ station: string; received: string }>,
  ) => {
    const stored = await context.store.idempotentAnswer(key);
    if (stored) {
      if (stored.request !== request) {
        throw new ProblemError(
          "idempotency-key-reused",
          "This Idempotency-Key came with another request before: take a new one.",
        );
      }
      return JSON.parse(stored.response) as { station: string; received: string };
    }
    const answer = await work();
    const response = JSON.stringify(answer);
    const createdS = context.clock.nowS();
    await context.store.saveIdempotentAnswer(key, { request, status: 201, response }, createdS);
    return answer;
  };

  return async (app) => {
    for (const [name, kind] of Object.entries(kinds)) {
      app.post(
        `/stations/:id/${name}`,
        {
          schema: {
            summary: kind.summary,
            tags: ["stations"],
            params: idParams,
            headers,
            body: kind.body,
            response: {
              201: entryReceiptSchema,
              404: problemSchema,
              409: problemSchema,
              422: problemSchema,
              428: problemSchema,
            },
          },
        },
        async (request, reply) => {
          requireReady(context);
          const station = findStation(context, request.params.id);
          const key = request.headers["idempotency-key"];
          if (key === undefined) {
            throw new ProblemError(
              "idempotency-key-required",
              "Send an Idempotency-Key of your making, so that a repeat counts once.",
            );
          }
          const text = JSON.stringify([name, station.id, request.body]);
          const requestHash = createHash("sha256").update(text).digest("base64url");
          const before = underWay.get(key) ?? Promise.resolve();
          const answer = before
            .catch(() => undefined)
            .then(() =>
              once(key, requestHash, async () => {
                const entry = kind.entry(request.body);
                const busy = entry.leakTest ? context.service.leakTestElsewhere(station) : null;
                if (busy !== null) {
                  throw new ProblemError(
                    "nothing-to-do",
                    `The leak test of ${busy}, on the same supply, is under way: wait for its end.`,
                  );
                }
                const described = entry.swap
                  ? await rack.newTare(station, entry.swap.tareKg)
                  : null;
                const received = await context.service.say(station, entry);
                if (entry.swap) await rack.told(station, received, entry.swap, described);
                return { station: station.id, received: toRfc3339(received) };
              }),
            );
          underWay.set(key, answer);
          try {
            reply.code(201);
            return await answer;
          } finally {
            if (underWay.get(key) === answer) underWay.delete(key);
          }
        },
      );
    }
  };
}
