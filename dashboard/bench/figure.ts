/** The typed number; null where it is empty, none, or below zero. A comma counts as a point. */
export function figure(text: string): number | null {
  if (text.trim() === "") return null;
  const value = Number(text.replace(",", "."));
  return Number.isFinite(value) && value >= 0 ? value : null;
}
