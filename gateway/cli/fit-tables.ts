import type { BenchResult } from "@leeward/shared-core/bench/fit-device.ts";
import { PSI_PA } from "@leeward/shared-core/units/factors.ts";

/** The result of a bench test as tables for a terminal, at most 100 columns where words allow. */
export function fitTables(result: BenchResult): string {
  return [
    parameterTable(result),
    rowTable(result),
    `Consistent: ${result.consistent === null ? "cannot tell" : result.consistent ? "yes" : "no"}`,
    ...wrap(result.why, "  "),
    "",
    cardTable(result),
    ...result.questions.flatMap((question) => wrap(question, "  ", "? ")),
    "",
  ].join("\n");
}

function parameterTable(result: BenchResult): string {
  const rows = [...result.parameters, ...result.derived].map((one) => [
    one.name,
    digits(one.value),
    `${digits(one.low)} to ${digits(one.high)}`,
    one.unit === "1" ? "" : one.unit,
    "from" in one && one.from === "usual" ? "not from the rows: what is usual" : "",
  ]);
  return table("Parameter", ["", "value", "95 % interval", "unit", ""], rows);
}

function rowTable(result: BenchResult): string {
  const lines = result.rows.flatMap((row) => {
    const pressure = row.cylinderBar === null ? "" : ` at ${pressureText(row.cylinderBar, result)}`;
    const residual = row.residual === null ? "" : ` (${signed(row.residual)} %)`;
    return wrap(
      `${row.verdict}${row.leftOut ? " [left out of the fit]" : ""}`,
      "          ",
      `  row ${row.row}${pressure}, ${row.action ?? "not used"}${residual}\n          `,
    );
  });
  return ["Rows", ...lines, ""].join("\n");
}

function cardTable(result: BenchResult): string {
  const unit = result.device.unit;
  const head =
    result.target.reading === null
      ? "Dial to"
      : `Dial to, for a true flow of ${digits(result.target.reading)} ${unit}`;
  const rows = result.card.map((entry) => [
    pressureText(entry.cylinderBar, result),
    entry.dialTo === null ? "-" : `${digits(entry.dialTo)} ${unit}`,
    entry.dialTo === null ? "" : `${digits(entry.low ?? 0)} to ${digits(entry.high ?? 0)}`,
    entry.why ?? entry.note ?? "",
  ]);
  return table(head, ["cylinder", "reading", "95 % interval", ""], rows);
}

function pressureText(bar: number, result: BenchResult): string {
  return result.device.unit === "CFH"
    ? `${Math.round((bar * 1e5) / PSI_PA)} psi`
    : `${digits(bar)} bar`;
}

function table(title: string, head: string[], rows: string[][]): string {
  const all = [head, ...rows];
  const widths = head.map((_, k) => Math.max(...all.map((row) => row[k]?.length ?? 0)));
  const line = (row: string[]) =>
    `  ${row.map((cell, k) => (k === row.length - 1 ? cell : cell.padEnd(widths[k] ?? 0))).join("  ")}`.trimEnd();
  return [title, ...all.map(line), ""].join("\n");
}

function wrap(text: string, indent: string, first = indent): string[] {
  const lines: string[] = [];
  let line = first;
  for (const word of text.split(" ")) {
    const width = line.length - line.lastIndexOf("\n") - 1;
    if (width + word.length > 96 && line.trim() !== "") {
      lines.push(line.trimEnd());
      line = indent;
    }
    line += `${word} `;
  }
  return [...lines, line.trimEnd()];
}

function digits(value: number): string {
  const size = Math.abs(value);
  const decimals = size >= 100 ? 0 : size >= 10 ? 1 : size >= 1 ? 2 : 4;
  return value.toFixed(decimals);
}

function signed(value: number): string {
  return `${value > 0 ? "+" : ""}${value.toFixed(1)}`;
}
