import type { Ledger, LedgerRow } from "@leeward/shared-core/api/ledger.ts";

const columns: readonly [string, (row: LedgerRow, currency: string | null) => unknown][] = [
  ["station", (row) => row.station],
  ["from", (row) => new Date(row.from * 1000).toISOString()],
  ["to", (row) => new Date(row.to * 1000).toISOString()],
  ["job", (row) => row.job],
  ["welder", (row) => row.welder],
  ["wps", (row) => row.wps],
  ["gas_on_spells", (row) => row.starts],
  ["gas_on_s", (row) => row.gasOnS],
  ["used_l_metric20", (row) => row.litres.mean.toFixed(1)],
  ["used_low_l_metric20", (row) => row.litres.low.toFixed(1)],
  ["used_high_l_metric20", (row) => row.litres.high.toFixed(1)],
  ["lost_while_off_l_metric20", (row) => row.leakLitres?.toFixed(1)],
  ["cost", (row) => row.cost?.toFixed(2)],
  ["currency", (_row, currency) => currency],
  ["shielding", (row) => row.verdict],
  ["short_s", (row) => row.shortS.toFixed(1)],
  ["without_data_s", (row) => row.noDataS.toFixed(1)],
  ["mean_lpm_metric20", (row) => row.mean?.lpm.toFixed(2)],
  ["mean_low_lpm_metric20", (row) => row.mean?.low.toFixed(2)],
  ["mean_high_lpm_metric20", (row) => row.mean?.high.toFixed(2)],
];

/** What the figures of every row mean, so that a file explains itself on another day. */
const meaning: readonly [string, string][] = [
  ["interval_percent", "95"],
  ["metric20", "20 °C 101.325 kPa"],
];

/** One cell after RFC 4180; a text that a spreadsheet would take for a formula is disarmed. */
function cell(value: unknown): string {
  const text = value === null || value === undefined ? "" : String(value);
  const safe = typeof value === "string" && /^[=+\-@\t]/.test(text) && !/^-?[\d.]+$/.test(text);
  const plain = safe ? `'${text}` : text;
  return /[",\r\n]/.test(plain) ? `"${plain.replaceAll('"', '""')}"` : plain;
}

/** `ledger-north-2026-11-26-2026-11-27.csv`: the site and the span's days in UTC, as in the file. */
export function ledgerFileName({ site, from, to }: Ledger): string {
  const day = (t: number) => new Date(t * 1000).toISOString().slice(0, 10);
  return `ledger-${site}-${day(from)}-${day(to)}.csv`;
}

/**
 * The ledger as CSV (RFC 4180): times in UTC, litres `metric20` (20 °C, 101.325 kPa).
 *
 * @param isVirtual of a station by its id; null where that is not known
 */
export function ledgerCsv(ledger: Ledger, isVirtual: (station: string) => boolean | null): string {
  const lines = [
    [...columns.map(([name]) => name), ...meaning.map(([name]) => name), "virtual"],
    ...ledger.rows.map((row) => [
      ...columns.map(([, read]) => cell(read(row, ledger.currency))),
      ...meaning.map(([, value]) => cell(value)),
      cell(isVirtual(row.station)),
    ]),
  ];
  return `${lines.map((line) => line.join(",")).join("\r\n")}\r\n`;
}
