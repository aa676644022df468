import { effect, signal } from "@preact/signals";
import { metricUnits, type UnitChoice, usUnits } from "../display/units.ts";
import { isLanguageChoice, type LanguageChoice, languageFor } from "../language/languages.ts";
import { language, useWords } from "../language/live-words.ts";

export type Theme = "system" | "light" | "dark";

const KEY = "leeward.settings.1";

/** What one person chose on this device. */
interface Settings {
  units: UnitChoice;
  theme: Theme;
  language: LanguageChoice;
}

function initial(): Settings {
  const byRegion = navigator.language === "en-US" ? usUnits : metricUnits;
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? "{}") as Partial<Settings>;
    return {
      units: { ...byRegion, ...kept.units },
      theme: kept.theme ?? "system",
      language: isLanguageChoice(kept.language) ? kept.language : "device",
    };
  } catch {
    return { units: byRegion, theme: "system", language: "device" };
  }
}

const start = initial();
export const units = signal<UnitChoice>(start.units);
export const theme = signal<Theme>(start.theme);
export const languageChoice = signal<LanguageChoice>(start.language);

/** Puts the chosen language in use; the one before stays where its words cannot be fetched. */
async function speak(choice: LanguageChoice): Promise<void> {
  const wanted = languageFor(choice, navigator.languages);
  try {
    await useWords(wanted.language, wanted.locale);
  } catch {
    // Off line and not kept on this device: the words at hand are better than none.
  }
  document.documentElement.lang = language.peek();
}

/** Keeps the choice and puts language and look on the page; resolves when the words are there. */
export async function applySettings(): Promise<void> {
  let spoken = Promise.resolve();
  effect(() => {
    const chosen = languageChoice.value;
    // One after the other, so that a slow fetch never overtakes a later choice.
    spoken = spoken.then(() => speak(chosen));
  });
  effect(() => {
    const chosen: Settings = {
      units: units.value,
      theme: theme.value,
      language: languageChoice.value,
    };
    if (chosen.theme === "system") delete document.documentElement.dataset.theme;
    else document.documentElement.dataset.theme = chosen.theme;
    try {
      localStorage.setItem(KEY, JSON.stringify(chosen));
    } catch {
      // The choice then holds for this visit only.
    }
  });
  await spoken;
}
