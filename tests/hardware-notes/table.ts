/** A Markdown table of cells. */
export function markdownTable(
  head: readonly string[],
  rows: readonly (readonly string[])[],
): string {
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  return [line(head), line(head.map(() => "---")), ...rows.map(line)].join("\n");
}

/** Two significant digits, plain. */
export function twoDigits(value: number): string {
  return String(Number(value.toPrecision(2)));
}

export function percent(share: number): string {
  return `${twoDigits(share * 100)} %`;
}

/** Root of the sum of squares. */
export function together(shares: readonly number[]): number {
  return Math.hypot(...shares);
}
