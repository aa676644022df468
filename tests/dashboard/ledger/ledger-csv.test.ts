import type { Ledger, LedgerRow } from "@leeward/shared-core/api/ledger.ts";
import { expect, test } from "vitest";
import { ledgerCsv, ledgerFileName } from "../../../dashboard/ledger/ledger-csv.ts";

const row: LedgerRow = {
  station: "north.bay-3",
  name: "Bay 3",
  from: Date.parse("2026-11-02T06:00:00Z") / 1000,
  to: Date.parse("2026-11-02T14:00:00Z") / 1000,
  job: '=HYPERLINK("x")',
  welder: "A, B",
  wps: null,
  starts: 3,
  gasOnS: 600,
  litres: { mean: 80, low: 76, high: 84 },
  leakLitres: null,
  cost: null,
  verdict: "cannot-tell",
  shortS: 0,
  noDataS: 60,
  mean: { lpm: 8, low: 7.6, high: 8.4 },
};
const ledger: Ledger = {
  site: "north",
  currency: null,
  from: row.from,
  to: row.to + 86_400,
  keptFrom: row.from,
  rows: [row],
};

test("a file says by itself what its figures mean, and what is invented", () => {
  const [head, line] = ledgerCsv(ledger, () => true).split("\r\n");
  const cells = line?.match(/("([^"]|"")*"|[^,]*)(,|$)/g)?.map((cell) => cell.replace(/,$/, ""));
  const of = (column: string) => cells?.[head?.split(",").indexOf(column) ?? -1];
  expect(of("interval_percent")).toBe("95");
  expect(of("metric20")).toBe("20 °C 101.325 kPa");
  expect(of("virtual")).toBe("true");
  expect(of("shielding")).toBe("cannot-tell");
  // Unknown is empty, never a zero.
  expect(of("lost_while_off_l_metric20")).toBe("");
  expect(of("cost")).toBe("");
  expect(of("job")).toBe(`"'=HYPERLINK(""x"")"`);
  expect(ledgerCsv(ledger, () => null)).toMatch(/,\r\n$/);
});

test("a file is named after its site and its days", () => {
  expect(ledgerFileName(ledger)).toBe("ledger-north-2026-11-02-2026-11-03.csv");
});
