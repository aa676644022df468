import type { FlowDeviceDocument } from "@leeward/shared-core/documents/hardware.ts";
import { afterEach, expect, test } from "vitest";
import { readingWords, ringName } from "../../../dashboard/display/device-words.ts";
import { useWords } from "../../../dashboard/language/live-words.ts";
import { exampleStation } from "./examples.ts";

afterEach(() => useWords("en", "en-GB"));

test("a float that is no ball is not called one, in any language", async () => {
  const ball = { ...exampleStation().flowDevice!, float: "ball" } as FlowDeviceDocument;
  const shaped = { ...ball, float: "shaped" } as FlowDeviceDocument;
  const said: string[][] = [];
  for (const [language, locale] of [
    ["en", "en-GB"],
    ["de", "de-DE"],
    ["es", "es-ES"],
  ] as const) {
    await useWords(language, locale);
    said.push([ringName(ball), ringName(shaped), readingWords(shaped).ask]);
  }
  expect(said).toEqual([
    ["float", "float", "What does the float show?"],
    ["Kugel", "Schwebekörper", "Was zeigt der Schwebekörper?"],
    ["bola", "flotador", "¿Qué marca el flotador?"],
  ]);
});
