import { alarmConditions } from "../index.ts";
import { englishDays, englishSentences } from "./english.ts";
import { german } from "./german.ts";
import type { Language } from "./languages.ts";
import type { AlarmLanguage } from "./say.ts";
import { spanish } from "./spanish.ts";

export const english: AlarmLanguage = {
  decimal: ".",
  days: englishDays,
  sentences: englishSentences,
  titles: Object.fromEntries(alarmConditions.map(({ condition, title }) => [condition, title])),
  reasons: {},
};

/** The alarms in every language. */
export const alarmLanguages: Readonly<Record<Language, AlarmLanguage>> = {
  en: english,
  de: german,
  es: spanish,
};
