import { leakTest } from "./english/leak-test.ts";
import { pageWords } from "./live-words.ts";

/** Words of the leak test in the language in use; loaded when one is looked at. */
export const leakTestWords: typeof leakTest = await pageWords(leakTest, {
  de: async () => (await import("./german/leak-test.ts")).leakTest,
  es: async () => (await import("./spanish/leak-test.ts")).leakTest,
});
