import type { Language } from "@leeward/shared-core/alarms/language/languages.ts";
import { phrases as english } from "@leeward/shared-core/language/english/index.ts";
import { phrases as german } from "@leeward/shared-core/language/german/index.ts";
import { phraseIn } from "@leeward/shared-core/language/phrases.ts";
import { phrases as spanish } from "@leeward/shared-core/language/spanish/index.ts";

const books = { en: english, de: german, es: spanish };

/** Says the core's English sentences in a language, with the decimal sign of whoever reads. */
export function tellIn(
  language: Language,
  decimal = language === "en" ? "." : ",",
): (text: string) => string {
  return (text) => phraseIn(text, { english, own: books[language], decimal });
}
