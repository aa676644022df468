import { z } from "zod";

/** Use and cost of gas, by day, week, month or job. Unix s; litres `metric20`. */
export const ledgerRowSchema = z
  .object({
    station: z.string(),
    name: z.string(),
    from: z.number(),
    to: z.number(),
    /** By job: its name; null where gas flowed without a job: unassigned. */
    job: z.string().nullable(),
    welder: z.string().nullable(),
    wps: z.string().nullable(),
    starts: z.int(),
    gasOnS: z.number(),
    litres: z.object({ mean: z.number(), low: z.number(), high: z.number() }),
    /** Standing loss while gas was off; null where it is not known. */
    leakLitres: z.number().nullable(),
    /** At the station's own price of a fill; null where there is none. */
    cost: z.number().nullable(),
    verdict: z.enum(["short", "not-short", "cannot-tell", "no-window", "no-gas"]),
    shortS: z.number(),
    /** Never counted as use or as good. */
    noDataS: z.number(),
    mean: z.object({ lpm: z.number(), low: z.number(), high: z.number() }).nullable(),
  })
  .meta({ id: "LedgerRow" });
export type LedgerRow = z.infer<typeof ledgerRowSchema>;

export const ledgerSchema = z
  .object({
    site: z.string(),
    currency: z.string().nullable(),
    from: z.number(),
    to: z.number(),
    /** Oldest moment of which every second is kept; before it there is no use on record. */
    keptFrom: z.number(),
    rows: z.array(ledgerRowSchema),
  })
  .meta({ id: "Ledger" });
export type Ledger = z.infer<typeof ledgerSchema>;
