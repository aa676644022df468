import { expect, it } from "vitest";
import { z } from "zod";
import { parseDocument } from "../../../shared-core/documents/parse.ts";
import { personEntrySchema, swapEntrySchema } from "../../../shared-core/messages/person-entry.ts";

/** What is wrong with an entry: paths and messages. */
function faults(entry: unknown): string[] {
  const parsed = parseDocument(personEntrySchema, entry);
  return parsed.ok ? [] : parsed.faults.map(({ path, message }) => `${path} ${message}`);
}

it.each([
  [{ swap: { filledBar: 1001 } }, "swap.filledBar must be above 0 and at most 1000 bar, gauge"],
  [{ swap: { filledBar: 0 } }, "swap.filledBar must be above 0"],
  [{ swap: { litres: 0 } }, "swap.litres must be above 0"],
  [{ swap: { litres: 1.1e6 } }, "swap.litres must be above 0 and at most 1000000 litres"],
  [{ swap: { filledKg: 10_001 } }, "swap.filledKg must be above 0 and at most 10000 kg"],
  [{ swap: { presentKg: 10_001 } }, "swap.presentKg must be from 0 to 10000 kg"],
  [{ swap: { presentKg: -1 } }, "swap.presentKg must be from 0 to 10000 kg"],
  [{ swap: { filledKg: 20, presentKg: 21 } }, "swap.presentKg is more than filledKg"],
  [{ job: { targetLpm: 0.05 } }, "job.targetLpm must be from 0.1 to 500 L/min"],
  [{ job: { targetLpm: 501 } }, "job.targetLpm must be from 0.1 to 500 L/min"],
  [{ job: { plannedArcMinutes: 10_001 } }, "job.plannedArcMinutes must be above 0 and at most"],
  [{ job: { job: "keel\u202e7" } }, "job.job must be plain text of one line"],
  [{ job: { welder: "Ada\u0007" } }, "job.welder must be plain text of one line"],
  [{ swap: { lot: "L\n1" } }, "swap.lot must be plain text of one line"],
  [{ swap: { serial: "\u2067S1" } }, "swap.serial must be plain text of one line"],
])("refuses %j", (entry, message) => {
  expect(faults(entry)).toEqual([expect.stringContaining(message)]);
});

it.each([
  { swap: { filledBar: 1000, litres: 1e6, lot: "Größe 7, ñ – ガス", serial: "مثال 7" } },
  { swap: { filledKg: 20, presentKg: 20 } },
  { swap: { presentKg: 0 } },
  { job: { targetLpm: 0.1, plannedArcMinutes: 10_000, job: "Kiel 7" } },
  { job: { targetLpm: 500 } },
])("takes %j", (entry) => {
  expect(faults(entry)).toEqual([]);
});

it("says its bounds in the schema that the API shows", () => {
  expect(z.toJSONSchema(swapEntrySchema)).toMatchObject({
    $defs: {
      SwapEntry: {
        properties: {
          filledBar: { exclusiveMinimum: 0, maximum: 1000 },
          litres: { exclusiveMinimum: 0, maximum: 1e6 },
          lot: { pattern: expect.stringContaining("p{Cc}") },
        },
      },
    },
  });
});
