import { z } from "zod";
import { siteSchema } from "../documents/station.ts";
import { stoodAtSchema } from "./stations.ts";

/** Shapes of the API that Setup works with. */

export const siteViewSchema = z
  .object({
    site: z.string(),
    /** For If-Match; 0 while nobody has said anything of this site. */
    version: z.int(),
    description: siteSchema,
  })
  .meta({ id: "Site" });
export type SiteView = z.infer<typeof siteViewSchema>;

/** A node as Setup needs it: whether it speaks, what it measures, whose it is. */
export const nodeViewSchema = z
  .object({
    /** `<site>.<node>` */
    id: z.string(),
    site: z.string(),
    node: z.string(),
    state: z.enum(["online", "offline", "unknown"]),
    firmware: z.string().nullable(),
    /** RFC 3339. */
    lastSample: z.string().nullable(),
    /** Newest value of each channel, with its age in seconds when the answer was made. */
    measured: z.record(
      z.string(),
      z.object({ value: z.union([z.number(), z.boolean(), z.string()]), ageS: z.number() }),
    ),
    /** `station:bay-3` or `supply:ring-1`; null where nobody claims it. */
    owner: z.string().nullable(),
    /** Of one that is free: where it stood before. */
    stood: stoodAtSchema.optional(),
  })
  .meta({ id: "Node" });
export type NodeView = z.infer<typeof nodeViewSchema>;

export const nodeListSchema = z.object({ nodes: z.array(nodeViewSchema) }).meta({ id: "NodeList" });

/** A command that was sent; the node's answer stands in the journal as `node-reply` with this id. */
export const sentCommandSchema = z
  .object({ id: z.string(), expires: z.string() })
  .meta({ id: "SentCommand" });
