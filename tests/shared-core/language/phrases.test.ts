import { readdirSync, readFileSync } from "node:fs";
import { phrases as english } from "@leeward/shared-core/language/english/index.ts";
import { phrases as german } from "@leeward/shared-core/language/german/index.ts";
import { type Phrases, phraseIn, recognise } from "@leeward/shared-core/language/phrases.ts";
import { phrases as spanish } from "@leeward/shared-core/language/spanish/index.ts";
import ts from "typescript";
import { describe, expect, test } from "vitest";

const root = new URL("../../../", import.meta.url).pathname;

/** Literals that nobody reads as a sentence. */
const notSaid = [
  /^a dial card needs a flow device/,
  /^bench test$/,
  /^short tacks$|^long runs$|^to the last bar$/,
];

interface Literal {
  text: string;
  values: number;
}

/** Every text of a file with a blank in it, values of a template as `\0`. */
function literalsOf(path: string): Literal[] {
  const source = ts.createSourceFile(
    path,
    readFileSync(root + path, "utf8"),
    ts.ScriptTarget.Latest,
    true,
  );
  const found: Literal[] = [];
  const visit = (node: ts.Node): void => {
    // The page has its own words for the columns; the faults that name one are in the book.
    if (ts.isVariableDeclaration(node) && node.name.getText() === "benchColumns") return;
    const parent = node.parent;
    const quiet =
      (parent && (ts.isImportDeclaration(parent) || ts.isThrowStatement(parent))) ||
      (parent && ts.isNewExpression(parent) && /Error$/.test(parent.expression.getText())) ||
      (parent &&
        ts.isCallExpression(parent) &&
        /\.(describe|split|replace)$/.test(parent.expression.getText())) ||
      (parent && ts.isPropertyAssignment(parent) && /^(source|gas)$/.test(parent.name.getText()));
    if (!quiet && ts.isStringLiteralLike(node)) {
      found.push({ text: node.text, values: 0 });
    }
    if (!quiet && ts.isTemplateExpression(node)) {
      const text =
        node.head.text + node.templateSpans.map((one) => `\0${one.literal.text}`).join("");
      found.push({ text, values: node.templateSpans.length });
    }
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found.filter(({ text }) => / /.test(text) && /[a-z]{3}/.test(text.replaceAll("\0", "")));
}

/** Whether a text is a part of a sentence of the book, its pieces in their order. */
function isPart({ text }: Literal): boolean {
  const pieces = text.split("\0").map((piece) => piece.replace(/^[;:, ]+/, "").trim());
  return Object.values(english).some((sentence) => {
    let from = 0;
    for (const piece of pieces) {
      const at = sentence.indexOf(piece, from);
      if (at < 0) return false;
      from = at + piece.length;
    }
    return true;
  });
}

/** Whether the book knows a text with some values filled in: numbers, or a clause it knows. */
function known({ text, values }: Literal): boolean {
  const samples = ["3", "common practice, no source", "edge", "float tube", "reading"];
  for (let choice = 0; choice < samples.length ** values; choice++) {
    let k = choice;
    const filled = text.replaceAll("\0", () => {
      const sample = samples[k % samples.length]!;
      k = Math.floor(k / samples.length);
      return sample;
    });
    const unknown: string[] = [];
    phraseIn(filled, { english, own: german, decimal: "," }, (part) => unknown.push(part));
    if (unknown.length === 0) return true;
  }
  return false;
}

const files = ["demand", "bench", "safety", "rack"].flatMap((folder) =>
  readdirSync(`${root}shared-core/${folder}`)
    .filter((name) => name.endsWith(".ts"))
    .map((name) => `shared-core/${folder}/${name}`),
);
// Purge plans and tables go through the API alone; a prior's source is a note for programmers.
const exempt = /flow-units|purge\.ts|tables\.ts|priors\.ts/;

describe.each(files.filter((name) => !exempt.test(name)))("%s", (path) => {
  const literals = literalsOf(path).filter(({ text }) => !notSaid.some((one) => one.test(text)));
  test("every sentence is in the book", () => {
    expect(literals.filter((one) => !isPart(one) && !known(one)).map(({ text }) => text)).toEqual(
      [],
    );
  });
});

const languages: [string, Phrases][] = [
  ["German", german],
  ["Spanish", spanish],
];

describe.each(languages)("%s", (_name, own) => {
  test("says every sentence, with every value of the English one", () => {
    expect(Object.keys(own).sort()).toEqual(Object.keys(english).sort());
    const placesOf = (text: string) => [...text.matchAll(/\{\w+\}/g)].map(String).sort();
    const dropped = new Set(["value-missing"]);
    for (const [key, text] of Object.entries(english)) {
      expect(own[key], key).not.toBe("");
      if (!dropped.has(key)) expect(placesOf(own[key]!), key).toEqual(placesOf(text));
    }
  });
});

test("a sentence is taken apart into its key and its values", () => {
  expect(
    recognise("draught 0.5 m/s: minimum 12 % higher (own estimate, no source)", english),
  ).toEqual({
    say: "demand-draught",
    of: { n1: "0.5", n2: "12", source: "own estimate, no source" },
  });
  expect(recognise("a sentence of another kind", english)).toBeNull();
});

test("values inside a sentence are told too, numbers with the reader's decimal sign", () => {
  const text = "cup 7: 7.0 to 10.0 L/min (common practice, no source)";
  expect(phraseIn(text, { english, own: german, decimal: "," })).toBe(
    "Gasdüse 7: 7,0 bis 10,0 L/min (übliche Praxis, keine Quelle)",
  );
  expect(phraseIn(text, { english, own: spanish, decimal: "." })).toBe(
    "tobera 7: de 7.0 a 10.0 L/min (práctica común, sin fuente)",
  );
});

test("what the book does not know stays English, and is heard of", () => {
  const unknown: string[] = [];
  const text = "no row checks another; a later version says this";
  expect(phraseIn(text, { english, own: german, decimal: "," }, (part) => unknown.push(part))).toBe(
    "keine Zeile prüft eine andere; a later version says this",
  );
  expect(unknown).toEqual(["a later version says this"]);
});

test("a long text that the book does not know costs little, and stays as it is", () => {
  const odd = Array.from(
    { length: 40 },
    (_, k) => `odd ${k} is (so), or so: a later thing, or that; it was, well, new (here)`,
  ).join("; ");
  // Time of the processor, not of the wall: the machine may be busy with other things.
  const began = process.cpuUsage();
  expect(phraseIn(odd, { english, own: german, decimal: "," })).toContain("a later thing");
  const { user, system } = process.cpuUsage(began);
  expect((user + system) / 1000).toBeLessThan(500);
});
