import { type BenchWords, bench } from "./english/bench.ts";
import { pageWords } from "./live-words.ts";

/** Words of the Bench in the language in use; they come with its page, not with the first view. */
export const benchWords: BenchWords = await pageWords(bench, {
  de: async () => (await import("./german/bench.ts")).bench,
  es: async () => (await import("./spanish/bench.ts")).bench,
});
