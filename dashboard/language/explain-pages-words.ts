import { explainPages } from "./english/explain-pages.ts";
import { pageWords } from "./live-words.ts";

/** Words that explain figures of Rack, Ledger, Look-back, Bench and Alarms; loaded with the explanations. */
export const explainPagesWords: typeof explainPages = await pageWords(explainPages, {
  de: async () => (await import("./german/explain-pages.ts")).explainPages,
  es: async () => (await import("./spanish/explain-pages.ts")).explainPages,
});
