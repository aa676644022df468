import type { ServerResponse } from "node:http";
import type { LiveEvents } from "@leeward/shared-core/api/stations.ts";
import type { FastifyPluginAsyncZod } from "fastify-type-provider-zod";
import type { ApiContext } from "../context.ts";
import { securityHeaders } from "../server.ts";

const keepAliveMs = 15_000;
/** A reader that falls so far behind is let go; its browser connects again by itself. */
const backlogLimitBytes = 1_000_000;
const kinds: readonly (keyof LiveEvents)[] = ["estimate", "alarm", "status"];

/** Server-sent events: what changes, as it changes. */
export function eventRoutes(context: ApiContext): FastifyPluginAsyncZod {
  return async (app) => {
    const open = new Set<ServerResponse>();
    app.addHook("preClose", async () => {
      for (const response of open) response.end();
    });

    app.get(
      "/events",
      {
        schema: {
          summary: "Server-sent events: estimate, alarm, status",
          description:
            "text/event-stream; `event:` is the kind and `data:` its JSON. `alarm` comes when a station's alarms change, and with `changed` when people or the life cycle did something to some; its `id` is null for an alarm of the whole site. After a reconnect, get /stations anew.",
          tags: ["events"],
        },
      },
      (request, reply) => {
        reply.hijack();
        const response = reply.raw;
        response.writeHead(200, {
          ...securityHeaders,
          "content-type": "text/event-stream; charset=utf-8",
          "cache-control": "no-store",
          "x-accel-buffering": "no",
        });
        response.write("retry: 2000\n\n");
        open.add(response);
        const stops = kinds.map((kind) =>
          context.bus.on(kind, (event) => {
            if (response.writableLength > backlogLimitBytes) response.destroy();
            else response.write(`event: ${kind}\ndata: ${JSON.stringify(event)}\n\n`);
          }),
        );
        const timer = setInterval(() => response.write(": still here\n\n"), keepAliveMs);
        request.raw.once("close", () => {
          clearInterval(timer);
          for (const stop of stops) stop();
          open.delete(response);
        });
      },
    );
  };
}
