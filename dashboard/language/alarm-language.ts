import { englishDays, englishSentences } from "@leeward/shared-core/alarms/language/english.ts";
import type { AlarmLanguage } from "@leeward/shared-core/alarms/language/say.ts";
import { firstWords } from "./live-words.ts";

const english: AlarmLanguage = {
  decimal: ".",
  days: englishDays,
  sentences: englishSentences,
  titles: {},
  reasons: {},
};

/** What alarms say, in the language in use. */
export const alarmLanguage: AlarmLanguage = firstWords(english, {
  de: async () => (await import("@leeward/shared-core/alarms/language/german.ts")).german,
  es: async () => (await import("@leeward/shared-core/alarms/language/spanish.ts")).spanish,
});
