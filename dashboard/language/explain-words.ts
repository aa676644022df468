import { explain } from "./english/explain.ts";
import { pageWords } from "./live-words.ts";

/** Words that explain figures, in the language in use; loaded when the first one is asked for. */
export const explainWords: typeof explain = await pageWords(explain, {
  de: async () => (await import("./german/explain.ts")).explain,
  es: async () => (await import("./spanish/explain.ts")).explain,
});
