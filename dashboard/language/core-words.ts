import { type Phrases, phraseIn } from "@leeward/shared-core/language/phrases.ts";
import { decimalSign } from "../display/numbers.ts";
import { pageWords } from "./live-words.ts";

interface Book {
  english: Phrases;
  own: Phrases;
}

const english = () => import("@leeward/shared-core/language/english/index.ts");

/** What the core says of weld, bench and entries; the English book comes only where it is told otherwise. */
const book = await pageWords<Book>(
  { english: {}, own: {} },
  {
    de: async () => ({
      english: (await english()).phrases,
      own: (await import("@leeward/shared-core/language/german/index.ts")).phrases,
    }),
    es: async () => ({
      english: (await english()).phrases,
      own: (await import("@leeward/shared-core/language/spanish/index.ts")).phrases,
    }),
  },
);

/** A sentence of the core in the language in use; what its book does not know stays English. */
export function coreText(text: string): string {
  const { english: core, own } = book;
  return phraseIn(text, { english: core, own, decimal: decimalSign() });
}
