import { english, type Words } from "./english/index.ts";
import { firstWords } from "./live-words.ts";

/** The words in use. Nothing outside the language folders puts words together. */
export const words: Words = firstWords(english, {
  de: async () => (await import("./german/index.ts")).german,
  es: async () => (await import("./spanish/index.ts")).spanish,
});
