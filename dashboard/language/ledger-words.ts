import { ledger } from "./english/ledger.ts";
import { pageWords } from "./live-words.ts";

/** Words of the Ledger page in the language in use; loaded with its page. */
export const ledgerWords: typeof ledger = await pageWords(ledger, {
  de: async () => (await import("./german/ledger.ts")).ledger,
  es: async () => (await import("./spanish/ledger.ts")).ledger,
});
