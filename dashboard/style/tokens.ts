// The tokens of tokens.css for what is drawn on a canvas, where no style sheet reaches.

/** What a token holds now, in the look in use; empty where there is none of the name. */
export function token(name: string): string {
  return getComputedStyle(document.documentElement).getPropertyValue(`--${name}`).trim();
}

/** The reader's own size of type, px. */
export function remPx(): number {
  return Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
}

/** A token that is a length in px or rem, as px. */
export function tokenPx(name: string): number {
  const value = token(name);
  return Number.parseFloat(value) * (value.endsWith("rem") ? remPx() : 1);
}

/** Type on a chart, as a canvas takes it. */
export function chartFont(): string {
  return `${Math.round(tokenPx("chart-type"))}px ${token("font")}`;
}
