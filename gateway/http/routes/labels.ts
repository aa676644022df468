import { problemSchema } from "@leeward/shared-core/api/stations.ts";
import type { FastifyPluginAsyncZod } from "fastify-type-provider-zod";
import { toString as qrSvg } from "qrcode";
import { z } from "zod";
import { type ApiContext, findStation } from "../context.ts";
import { idParams } from "./stations.ts";

/** The code that a station's label carries: the address of its page. */
export function labelRoutes(context: ApiContext): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      "/stations/:id/code.svg",
      {
        schema: {
          summary: "QR code of a station's page at the address by which people reach the dashboard",
          tags: ["stations"],
          params: idParams,
          querystring: z.object({ address: z.url({ protocol: /^https?$/ }).max(200) }),
          response: { 200: z.string(), 404: problemSchema },
        },
      },
      async (request, reply) => {
        const station = findStation(context, request.params.id);
        const base = request.query.address.replace(/[#?].*$/, "").replace(/\/*$/, "/");
        const svg = await qrSvg(`${base}#/station/${station.id}`, {
          type: "svg",
          // A quarter of the code may be scratched or greasy.
          errorCorrectionLevel: "Q",
          margin: 4,
        });
        reply.type("image/svg+xml").serializer((text: unknown) => String(text));
        return svg;
      },
    );
  };
}
