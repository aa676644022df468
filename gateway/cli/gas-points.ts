import { PhysicsError } from "@leeward/shared-core/errors.ts";
import { checkMixture, type Mixture } from "@leeward/shared-core/gases/mixture.ts";
import { decimal } from "./decimal.ts";
import type { GasIo } from "./gas.ts";

const gasColumns = ["x_Ar", "x_CO2", "x_He", "x_N2", "x_O2", "x_H2"] as const;
const inputColumns = [...gasColumns, "T_K", "P_kPa"] as const;
const outputColumns = [
  "Z",
  "density_mol_per_L",
  "h_J_per_mol",
  "cp_J_per_mol_K",
  "cv_J_per_mol_K",
  "JT_K_per_kPa",
  "speed_of_sound_m_s",
] as const;

/** Mixtures that are kept ready; a table with a new composition in each row must not fill memory. */
const MOST_MIXTURES = 200;

/**
 * Properties for a table of states (CSV with a header line; absolute pressure).
 *
 * Writes the eight input columns as they were and the seven results, a row for each row, in
 * order, with all digits. A row without an answer keeps its place with empty results.
 *
 * @param text of the file
 * @param name of the file, for messages
 * @returns 0, 1 if some row has no answer, 2 if a column is missing
 */
export function pointsTable(text: string, name: string, io: GasIo): number {
  const lines = text
    .replace(/^\uFEFF/, "")
    .split(/\r\n|\n|\r/)
    .map((line, k) => ({ line, number: k + 1 }))
    .filter(({ line }) => line.trim() !== "" && !line.trimStart().startsWith("#"));
  const header = cellsOf(lines[0]?.line ?? "") ?? [];
  const positions = inputColumns.map((column) => header.indexOf(column));
  const missing = inputColumns.filter((_, k) => positions[k] === -1);
  if (missing.length > 0) {
    io.writeError(
      `leeward gas: ${name} has no column ${missing.join(", ")}; its first line must name ${inputColumns.join(",")}.\n`,
    );
    return 2;
  }
  const doubled = inputColumns.filter((column, k) => header.lastIndexOf(column) !== positions[k]);
  if (doubled.length > 0) {
    io.writeError(
      `leeward gas: ${name} has the column ${doubled.join(", ")} twice; leave one of them.\n`,
    );
    return 2;
  }
  const mixtures = new Map<string, Mixture>();
  const rows = [[...inputColumns, ...outputColumns].join(",")];
  let failures = 0;
  for (const { line, number } of lines.slice(1)) {
    const cells = cellsOf(line);
    const inputs = positions.map((position) => cells?.[position] ?? "");
    const outputs = misfit(line, cells, header.length) ?? answer(inputs, mixtures);
    if (outputs instanceof PhysicsError) {
      failures++;
      io.writeError(`leeward gas: ${name} line ${number}: ${outputs.message}\n`);
      rows.push([...inputs.map(quoted), ...outputColumns.map(() => "")].join(","));
    } else {
      rows.push([...inputs, ...outputs].join(","));
    }
  }
  io.write(`${rows.join("\n")}\n`);
  return failures > 0 ? 1 : 0;
}

/** A row whose cells cannot be told apart, or do not match the header: no answer is safe. */
function misfit(line: string, cells: string[] | null, columns: number): PhysicsError | null {
  if (cells === null) {
    return new PhysicsError("UNIT_PARSE", "row", line, "a quote in it is not closed.");
  }
  if (cells.slice(columns).some((cell) => cell !== "")) {
    return new PhysicsError(
      "UNIT_PARSE",
      "row",
      line,
      `it has ${cells.length} cells, the header ${columns}; write numbers with a point, not a comma.`,
    );
  }
  return null;
}

/**
 * Cells of one line; a quoted cell may hold commas and doubled quotes (RFC 4180), but no line
 * break. Null where a quote is not closed or text follows it.
 */
function cellsOf(line: string): string[] | null {
  const cells: string[] = [];
  const cell = /\s*(?:"((?:[^"]|"")*)"\s*|([^",][^,]*|))(,|$)/y;
  for (let end = ","; end === ","; ) {
    const match = cell.exec(line);
    if (match === null) {
      return null;
    }
    cells.push((match[1]?.replaceAll('""', '"') ?? match[2] ?? "").trim());
    end = match[3] ?? "";
  }
  return cells;
}

/** A cell as it may stand in a table. */
function quoted(cell: string): string {
  return /[",]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}

function answer(inputs: string[], mixtures: Map<string, Mixture>): number[] | PhysicsError {
  const numbers = inputs.map(decimal);
  const unreadable = numbers.findIndex((number) => !Number.isFinite(number));
  if (unreadable !== -1) {
    return new PhysicsError(
      "UNIT_PARSE",
      inputColumns[unreadable] ?? "column",
      inputs[unreadable] ?? "",
      "write a plain number with a point.",
    );
  }
  const [Ar, CO2, He, N2, O2, H2, temperatureK = 0, pressureKpa = 0] = numbers;
  const key = numbers.slice(0, gasColumns.length).join();
  let mixture = mixtures.get(key);
  if (mixture === undefined) {
    const made = checkMixture({ Ar, CO2, He, N2, O2, H2 });
    if (!made.ok) {
      return made.error;
    }
    mixture = made.value;
    if (mixtures.size >= MOST_MIXTURES) {
      mixtures.clear();
    }
    mixtures.set(key, mixture);
  }
  const state = mixture.state(pressureKpa * 1000, temperatureK);
  if (!state.ok) {
    return state.error;
  }
  return [
    state.value.compressibility,
    state.value.densityMolPerM3 / 1000,
    state.value.enthalpyJPerMol,
    state.value.cpJPerMolK,
    state.value.cvJPerMolK,
    state.value.jouleThomsonKPerPa * 1000,
    state.value.speedOfSoundMPerS,
  ];
}
