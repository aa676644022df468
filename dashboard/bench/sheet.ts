import { benchColumns } from "@leeward/shared-core/bench/csv-readings.ts";
import type { UnitChoice } from "../display/units.ts";

/** The rows as written: heading and cells, just as in a CSV file. */
export interface Sheet {
  head: string[];
  rows: string[][];
}

/** An empty sheet in the user's units; the reading is in the unit printed on the device. */
export function emptySheet(units: UnitChoice, readingUnit: "CFH" | "L/min"): Sheet {
  const pressure = units.pressure === "psi" ? "psi" : "bar";
  const head = [
    `cylinder_${pressure}`,
    `line_${pressure}`,
    readingUnit === "CFH" ? "indicated_cfh" : "indicated",
    units.flow === "CFH" ? "true_cfh" : "true_lpm",
    "true_u_percent",
    "action",
  ];
  return { head, rows: [head.map((name) => (name === "action" ? "set" : ""))] };
}

/** Reads CSV without judging it: comment lines go, cells stay as written. */
export function readSheet(text: string): Sheet | null {
  const lines = text
    .replace(/^\uFEFF/, "")
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line !== "" && !line.startsWith("#"));
  const [first, ...rest] = lines.map((line) => line.split(",").map((cell) => cell.trim()));
  if (!first) return null;
  const head = first.map((name) => name.toLowerCase());
  return { head, rows: rest.map((row) => head.map((_name, k) => row[k] ?? "")) };
}

/** CSV of the rows that hold anything besides their action. */
export function sheetCsv({ head, rows }: Sheet): string {
  const lines = rows
    .filter((row) => row.some((cell, k) => cell !== "" && head[k] !== "action"))
    .map((row) => row.join(","));
  return `${[head.join(","), ...lines].join("\n")}\n`;
}

/** A row by the names of its columns; a column that the sheet lacks is added. */
export function withRow(sheet: Sheet, cells: Record<string, string>): Sheet {
  const head = [...sheet.head, ...Object.keys(cells).filter((name) => !sheet.head.includes(name))];
  const kept = sheet.rows.filter((row) =>
    row.some((cell, k) => cell !== "" && sheet.head[k] !== "action"),
  );
  return {
    head,
    rows: [
      ...kept.map((row) => head.map((_name, k) => row[k] ?? "")),
      head.map((name) => cells[name] ?? ""),
    ],
  };
}

/** Columns that may still be added. */
export function furtherColumns({ head }: Sheet): string[] {
  const optional = ["true_reference", "meter_gas", "ambient_c", "baro_kpa", "meter_drop_bar"];
  return optional.filter((name) => name in benchColumns && !head.includes(name));
}
