/** Languages of the dashboard, each with its own name and the locale where the device names none. */
export const languages = {
  en: { name: "English", locale: "en-GB" },
  de: { name: "Deutsch", locale: "de-DE" },
  es: { name: "Español", locale: "es-ES" },
} as const;

export type Language = keyof typeof languages;

/** A language, or whatever the device is set to. */
export type LanguageChoice = Language | "device";

export const languageCodes = Object.keys(languages) as Language[];

export function isLanguageChoice(value: unknown): value is LanguageChoice {
  return value === "device" || languageCodes.some((code) => code === value);
}

/**
 * The language to show and the locale of its numbers and dates: of the wanted languages (BCP 47,
 * best first, as `navigator.languages`) the first that we have, else English. A chosen language
 * takes its region, and with it the decimal sign, from the device where that names one.
 */
export function languageFor(
  choice: LanguageChoice,
  wanted: readonly string[],
): { language: Language; locale: string } {
  for (const tag of wanted) {
    const language = languageCodes.find((code) => code === tag.toLowerCase().split("-")[0]);
    if (!language || (choice !== "device" && choice !== language)) continue;
    return { language, locale: tag.includes("-") ? tag : languages[language].locale };
  }
  const language = choice === "device" ? "en" : choice;
  return { language, locale: languages[language].locale };
}
