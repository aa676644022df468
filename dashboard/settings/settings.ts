import { effect, signal } from "@preact/signals";
import { metricUnits, type UnitChoice, usUnits } from "../display/units.ts";

export type Theme = "system" | "light" | "dark";

const KEY = "leeward.settings.1";

/** What one person chose on this device. */
interface Settings {
  units: UnitChoice;
  theme: Theme;
}

function initial(): Settings {
  const byRegion = navigator.language === "en-US" ? usUnits : metricUnits;
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? "{}") as Partial<Settings>;
    return { units: { ...byRegion, ...kept.units }, theme: kept.theme ?? "system" };
  } catch {
    return { units: byRegion, theme: "system" };
  }
}

const start = initial();
export const units = signal<UnitChoice>(start.units);
export const theme = signal<Theme>(start.theme);

/** Keeps the choice and puts the look on the page. */
export function applySettings(): void {
  effect(() => {
    const chosen: Settings = { units: units.value, theme: theme.value };
    if (chosen.theme === "system") delete document.documentElement.dataset.theme;
    else document.documentElement.dataset.theme = chosen.theme;
    try {
      localStorage.setItem(KEY, JSON.stringify(chosen));
    } catch {
      // The choice then holds for this visit only.
    }
  });
}
