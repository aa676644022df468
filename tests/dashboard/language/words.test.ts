import { readdirSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { pluralsOf } from "../../../dashboard/language/plural.ts";

const folder = new URL("../../../dashboard/language/", import.meta.url).pathname;
const files = readdirSync(`${folder}english`).filter((file) => file !== "index.ts");

type Leaf = string | ((...values: unknown[]) => string);

/** Every text of a file by its path: `actions.readingCauses.tilt`. */
async function textsOf(language: string, file: string): Promise<Map<string, Leaf>> {
  const module: Record<string, unknown> = await import(`${folder}${language}/${file}`);
  const leaves = new Map<string, Leaf>();
  const walk = (value: unknown, path: string): void => {
    if (typeof value === "string" || typeof value === "function") {
      leaves.set(path, value as Leaf);
    } else {
      for (const [key, inner] of Object.entries(value as object)) walk(inner, `${path}.${key}`);
    }
  };
  for (const [name, value] of Object.entries(module)) walk(value, name);
  return leaves;
}

/** What stands in for the values of a text: numbers, since they also choose plural forms. */
const stand = [7001, 7002, 7003, 7004, 7005];
const rendered = (leaf: Leaf): string => (typeof leaf === "string" ? leaf : leaf(...stand));
const used = (text: string): string[] => stand.map(String).filter((mark) => text.includes(mark));

/** Texts that are rightly the same as in English: names, signs, units, international words. */
const same = new Set([
  "shell.productName",
  "settings.units.references.trade",
  "settings.units.references.iso",
  "settings.units.references.normal",
  "settings.units.references.metric20",
  "settings.units.referenceNames.iso",
  "device.gases.CO2",
  "device.weld.process.GMAW",
  "claim.claim.processes.GMAW",
  "bench.weld.processes.GMAW",
  "alarmsPage.delivery.ways.webhook",
  "alarmsPage.delivery.ways.mqtt",
  "alarmsPage.minutes.15",
  "setup.sanity.column.what",
]);
const sameIn: Record<string, ReadonlySet<string>> = {
  german: new Set([
    "device.gases.Ar",
    "device.gases.He",
    "alarmsPage.states.normal.standard",
    "bench.gas",
    "setup.steps.gas",
  ]),
  spanish: new Set([
    "device.weld.process.GTAW",
    "claim.claim.processes.GTAW",
    "bench.weld.processes.GTAW",
    "bench.weld.material",
    "floor.floor.no",
    "shell.state.virtual",
    "actions.actions.jobMaterial",
    "setup.fields.material",
    "bench.gas",
    "setup.steps.gas",
    "alarmsPage.states.normal.standard",
  ]),
};

/** Letters, once values and units are taken away: a text with none has nothing to translate. */
const letters = (text: string): string =>
  text.replace(/\b(min|h|s|mm|cm|bar|kg|L|atm)\b|[^\p{L}]/gu, "");

for (const language of ["german", "spanish"]) {
  describe(language, () => {
    test("has the files that English has", () => {
      const own = readdirSync(`${folder}${language}`).filter((file) => file !== "index.ts");
      expect(own.sort()).toEqual([...files].sort());
    });

    test.each(files)(
      "%s: the same keys, the same values in each text, all translated",
      async (file) => {
        const english = await textsOf("english", file);
        const own = await textsOf(language, file);
        expect([...own.keys()].sort()).toEqual([...english.keys()].sort());
        for (const [path, leaf] of english) {
          const mine = own.get(path) as Leaf;
          const [theirs, ours] = [rendered(leaf), rendered(mine)];
          expect(typeof mine, path).toBe(typeof leaf);
          expect(used(ours), `${path}: values`).toEqual(used(theirs));
          expect(ours === "", `${path}: empty`).toBe(theirs === "");
          expect(ours, `${path}: spaces`).toBe(ours.trim());
          const mayBeSame =
            letters(theirs) === "" || same.has(path) || sameIn[language]?.has(path) === true;
          if (!mayBeSame) expect(ours, `${path} is still English`).not.toBe(theirs);
          if (typeof leaf === "string") {
            expect(/[.:?…]$/.exec(ours)?.[0], `${path}: end`).toBe(/[.:?…]$/.exec(theirs)?.[0]);
          }
        }
      },
    );
  });
}

test("the list of texts that stay the same names only texts that there are, and that are the same", async () => {
  for (const language of ["german", "spanish"]) {
    const english = new Map<string, Leaf>();
    const own = new Map<string, Leaf>();
    for (const file of files) {
      for (const [path, leaf] of await textsOf("english", file)) english.set(path, leaf);
      for (const [path, leaf] of await textsOf(language, file)) own.set(path, leaf);
    }
    for (const path of sameIn[language] ?? []) {
      expect(own.get(path), `${language} ${path}`).toBe(english.get(path));
    }
    for (const path of same) expect(english.has(path), path).toBe(true);
  }
});

test("counted nouns take the form that their language's rules name", () => {
  const days = { one: "day", other: "days" };
  expect([0, 1, 2].map((n) => pluralsOf("en")(n, days))).toEqual(["days", "day", "days"]);
  expect([0, 1, 2].map((n) => pluralsOf("de")(n, days))).toEqual(["days", "day", "days"]);
  expect([0, 1, 2].map((n) => pluralsOf("es")(n, days))).toEqual(["days", "day", "days"]);
  // CLDR: Polish tells 2 from 5; a form that is not given falls back to the last.
  const polish = pluralsOf("pl");
  expect([1, 2, 5].map((n) => polish(n, { one: "a", few: "b", other: "c" }))).toEqual([
    "a",
    "b",
    "c",
  ]);
});

test.each(["english", "german", "spanish"])(
  "%s: gas that is off and a cylinder that is closed are two words",
  async (language) => {
    const texts = await textsOf(language, "device.ts");
    expect(texts.get("device.flow.off")).not.toBe(texts.get("device.flow.closed"));
    expect(texts.get("device.flow.off")).toBeTypeOf("string");
  },
);
