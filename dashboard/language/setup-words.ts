import { type SetupWords, setup } from "./english/setup.ts";
import { pageWords } from "./live-words.ts";

/** Words of Setup in the language in use; loaded with its page. */
export const setupWords: SetupWords = await pageWords(setup, {
  de: async () => (await import("./german/setup.ts")).setup,
  es: async () => (await import("./spanish/setup.ts")).setup,
});
