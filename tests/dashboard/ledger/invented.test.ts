import { expect, test } from "vitest";
import { ledger as english } from "../../../dashboard/language/english/ledger.ts";
import { ledger as german } from "../../../dashboard/language/german/ledger.ts";
import { ledger as spanish } from "../../../dashboard/language/spanish/ledger.ts";
import { inventedNote } from "../../../dashboard/ledger/invented.ts";

test.each([
  ["English", english, "Rows marked “VIRTUAL”", "counts them in"],
  ["German", german, "Zeilen mit „VIRTUAL“", "zählt sie mit"],
  ["Spanish", spanish, "Las filas con «VIRTUAL»", "las incluye"],
])(
  "no real row is called simulated, and the total says what is in it, in %s",
  (_name, text, rows, total) => {
    const lines = { all: "ALL", some: text.inventedSome("VIRTUAL") };
    expect(inventedNote([true, true], lines)).toBe("ALL");
    expect(inventedNote([true, false], lines)).toContain(rows);
    expect(inventedNote([false, true], lines)).toContain(total);
    expect(inventedNote([false, false], lines)).toBeNull();
    expect(inventedNote([], lines)).toBeNull();
  },
);
