const NAMES_KEY = "leeward.names.1";
/** As it was kept when there was one name only. */
const NAME_KEY = "leeward.name.1";
const KEPT = 4;

/** Names that were given on this device, the last one first. */
export function recallNames(): string[] {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(NAMES_KEY) ?? "[]");
    const names = Array.isArray(kept) ? kept.filter((name) => typeof name === "string") : [];
    const single = localStorage.getItem(NAME_KEY);
    return names.length > 0 || single === null ? names : [single];
  } catch {
    return [];
  }
}

/** The name that was last given on this device; empty where none was. */
export function recallName(): string {
  return recallNames()[0] ?? "";
}

export function keepName(name: string): void {
  try {
    const names = [name, ...recallNames().filter((one) => one !== name)].slice(0, KEPT);
    localStorage.setItem(NAMES_KEY, JSON.stringify(names));
  } catch {
    // Asked again next time.
  }
}
