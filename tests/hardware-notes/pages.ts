import { readFileSync, writeFileSync } from "node:fs";
import { energyTable } from "./energy.ts";
import { errorBudgetTable } from "./error-budget.ts";
import { pressureTable } from "./pressure-ratings.ts";

/** Tables of the hardware notes that are computed: `npm run notes` writes them, a test compares. */
export const computedTables: readonly { page: string; name: string; table: () => string }[] = [
  { page: "measuring.md", name: "error-budget", table: errorBudgetTable },
  { page: "measuring.md", name: "energy", table: energyTable },
  { page: "parts-and-fittings.md", name: "pressure-ratings", table: pressureTable },
];

export function pageUrl(page: string): URL {
  return new URL(`../../hardware-notes/${page}`, import.meta.url);
}

const begin = (name: string) => `<!-- computed: ${name} -->\n\n`;
const end = "\n\n<!-- end -->";

/** Where a table stands between its marks. Throws where the page has none. */
function placeOf(text: string, name: string): { from: number; to: number } {
  const from = text.indexOf(begin(name)) + begin(name).length;
  const to = text.indexOf(end, from);
  if (from < begin(name).length || to < 0) throw new Error(`no table ${name}`);
  return { from, to };
}

/** The text between a table's marks. */
export function tableIn(text: string, name: string): string {
  const { from, to } = placeOf(text, name);
  return text.slice(from, to);
}

if (process.argv.includes("--write")) {
  for (const { page, name, table } of computedTables) {
    const text = readFileSync(pageUrl(page), "utf8");
    const { from, to } = placeOf(text, name);
    writeFileSync(pageUrl(page), text.slice(0, from) + table() + text.slice(to));
  }
}
