import { bench } from "./bench.ts";
import { demand } from "./demand.ts";
import { entries } from "./entries.ts";

/** Every sentence of demand tables, bench and entries, by key. */
export const phrases = { ...demand, ...bench, ...entries };
