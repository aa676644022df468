import { lookBack } from "./english/look-back.ts";
import { pageWords } from "./live-words.ts";

/** Words of the Look-back page in the language in use; loaded with its page. */
export const lookBackWords: typeof lookBack = await pageWords(lookBack, {
  de: async () => (await import("./german/look-back.ts")).lookBack,
  es: async () => (await import("./spanish/look-back.ts")).lookBack,
});
