/** The local day of a moment, `2026-03-29`; such days compare as texts. */
export function localDay(unixS: number, timeZone: string): string {
  const format = new Intl.DateTimeFormat("en", {
    timeZone,
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
  });
  const parts = format.formatToParts(unixS * 1000);
  const of = (type: string) => parts.find((part) => part.type === type)?.value ?? "";
  return `${of("year")}-${of("month")}-${of("day")}`;
}
