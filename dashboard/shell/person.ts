const NAME_KEY = "leeward.name.1";

/** The name that was last given on this device; empty where none was. */
export function recallName(): string {
  try {
    return localStorage.getItem(NAME_KEY) ?? "";
  } catch {
    return "";
  }
}

export function keepName(name: string): void {
  try {
    localStorage.setItem(NAME_KEY, name);
  } catch {
    // Asked again next time.
  }
}
