import { describe, expect, test } from "vitest";
import { languageFor } from "../../../dashboard/language/languages.ts";

describe("the language to show", () => {
  const cases: [string, Parameters<typeof languageFor>, string, string][] = [
    ["the device's first language", ["device", ["de-AT", "en"]], "de", "de-AT"],
    ["the first that we have", ["device", ["fr-FR", "es-MX", "en-US"]], "es", "es-MX"],
    ["English where we have none", ["device", ["ja-JP"]], "en", "en-GB"],
    ["English where the device says nothing", ["device", []], "en", "en-GB"],
    ["a bare language takes its usual locale", ["device", ["de"]], "de", "de-DE"],
    ["upper-case tags", ["device", ["ES-419"]], "es", "ES-419"],
    ["a choice goes before the device", ["es", ["de-DE", "en-US"]], "es", "es-ES"],
    ["a choice takes the device's region", ["en", ["de-DE", "en-US"]], "en", "en-US"],
  ];
  test.each(cases)("%s", (_name, [choice, wanted], language, locale) => {
    expect(languageFor(choice, wanted)).toEqual({ language, locale });
  });
});
