import { type BenchWords, bench } from "./english/bench.ts";

/** The words of the Bench in use; they come with its page, not with the first view. */
export const benchWords: BenchWords = bench;
