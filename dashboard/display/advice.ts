/** What can be read at a glance, and the rest of it. */
export interface Advice {
  first: string;
  rest: string;
}

/** Characters that a glance takes in: about three lines of a tile. */
const GLANCE = 120;

/** Whole sentences up to a glance's length; at least the first one, however long. */
export function splitAdvice(text: string, glance = GLANCE): Advice {
  const sentences = text.match(/[^.!?]*(?:[.!?](?!\s|$)[^.!?]*)*[.!?]*\s*/g)?.filter(Boolean) ?? [];
  let first = sentences[0] ?? "";
  let taken = 1;
  while (taken < sentences.length && (first + sentences[taken]).trim().length <= glance) {
    first += sentences[taken];
    taken++;
  }
  return { first: first.trim(), rest: sentences.slice(taken).join("").trim() };
}

/** A title that another sentence follows ends with a stop. */
export function stopped(title: string): string {
  return /[.!?:…]$/.test(title) ? title : `${title}.`;
}

/** A figure and its unit stay on one line: half of either reads as something else. */
export function together(text: string): string {
  return text.replace(
    /(\d) (?=(?:L\/min|CFH|min|h|s|bar|mbar|psi|kPa|m³|ft³|°C|°F|%)(?![\p{L}/]))/gu,
    "$1\u00a0",
  );
}
