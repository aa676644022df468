import { z } from "zod";
import { momentSchema, momentToUnixS } from "../documents/common.ts";
import { supplySchema } from "../documents/station.ts";
import { documentWarningSchema } from "./stations.ts";

/** Shapes of the API beside stations: what the dashboard and other clients send and receive. */

/** A moment in a query: RFC 3339, or Unix seconds as text. Gives Unix seconds. */
export const momentQuerySchema = z
  .string()
  .transform((text) => (/^-?\d+(\.\d+)?$/.test(text) ? Number(text) : text))
  .pipe(momentSchema)
  .transform(momentToUnixS);

export const journalEntrySchema = z
  .object({
    id: z.int(),
    /** When it happened, and when the gateway wrote it down; RFC 3339. */
    time: z.string(),
    recorded: z.string(),
    site: z.string(),
    /** `<site>.<station>`; null where it concerns no station. */
    station: z.string().nullable(),
    node: z.string().nullable(),
    /** `gas-on`, `swap`, `alarm-active`, `node-offline`, `person-reading` … */
    kind: z.string(),
    detail: z.record(z.string(), z.unknown()),
  })
  .meta({ id: "JournalEntry" });
export type JournalEntry = z.infer<typeof journalEntrySchema>;

export const journalSchema = z
  .object({ entries: z.array(journalEntrySchema) })
  .meta({ id: "Journal" });

export const deadLetterSchema = z
  .object({
    id: z.int(),
    received: z.string(),
    topic: z.string(),
    /** One of the reasons of docs/errors.md. */
    reason: z.string(),
    /** Place in the message; empty for the whole. */
    path: z.string(),
    message: z.string(),
    bytes: z.int(),
    /** The first 2 KiB of the payload. */
    payload: z.string(),
  })
  .meta({ id: "DeadLetter" });
export const deadLetterListSchema = z
  .object({ count: z.int(), deadLetters: z.array(deadLetterSchema) })
  .meta({ id: "DeadLetterList" });

export const supplyViewSchema = z
  .object({ id: z.string(), version: z.int(), description: supplySchema })
  .meta({ id: "Supply" });
/** Answer to a supply that was stored; `warnings` where it has keys that nothing reads. */
export const savedSupplySchema = supplyViewSchema
  .extend({ warnings: z.array(documentWarningSchema).optional() })
  .meta({ id: "SavedSupply" });
export const supplyListSchema = z
  .object({ supplies: z.array(supplyViewSchema) })
  .meta({ id: "SupplyList" });

/** Answer to an entry of a person: it is stored, with its time of receipt. */
export const entryReceiptSchema = z
  .object({ station: z.string(), received: z.string() })
  .meta({ id: "EntryReceipt" });

export const readinessSchema = z
  .object({
    ready: z.boolean(),
    /** What is going on, in words. */
    state: z.string(),
    /** Share of the start that is done, 0 to 1. */
    progress: z.number(),
    broker: z.boolean(),
    queued: z.int(),
    catchingUp: z.int(),
  })
  .meta({ id: "Readiness" });
export type Readiness = z.infer<typeof readinessSchema>;
