import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";

// Colours, sizes of type, fonts, radii and targets have their names in one file; all else uses these.

const root = new URL("../../../dashboard/", import.meta.url).pathname;
const read = (file: string) => readFileSync(join(root, file), "utf8");
const all = readdirSync(root, { recursive: true, encoding: "utf8" }).filter(
  (file) => !/^(dist|node_modules)\//.test(file),
);
const sheets = all.filter((file) => file.endsWith(".css") && file !== "style/tokens.css");
const sources = all.filter((file) => /\.tsx?$/.test(file) && file !== "vite.config.ts");
const tokens = read("style/tokens.css");

/** The lines that hold such a thing; what a comment says does not count. */
const linesOf = (files: readonly string[], of: RegExp): string[] =>
  files.flatMap((file) =>
    read(file)
      .replace(/\/\*[\s\S]*?\*\/|\/\/ .*$/gm, "")
      .split("\n")
      .filter((line) => of.test(line))
      .map((line) => `${file}: ${line.trim()}`),
  );

const colour = /#[0-9a-f]{3,8}\b(?!\/)|\b(rgb|hsl|hwb|lab|lch|oklab|oklch|color)a?\(/i;

test.each([
  ["colour", colour],
  [
    "colour by its name",
    /(color|background|fill|stroke|border[\w-]*):[^;]*\b(black|white|gr[ae]y|red)\b/,
  ],
  // A tile of the wall is a share of the screen, worked out where it stands.
  ["size of type", /font(-size)?:[^;]*\d(rem|em|px|pt|vw|cqi)/],
  ["font", /font-family: (?!var\(--font\)|inherit)/],
  ["radius", /radius: [\d.]+(px|em|rem|%)/],
  ["target of a hand", /(?<![\w-])(min-)?(height|width): (44|48|56|64)px/],
])("no style sheet names a %s of its own", (what, literal) => {
  expect(sheets.length).toBeGreaterThan(14);
  // Where the font is fetched from, it is named.
  const files = what === "font" ? sheets.filter((file) => file !== "style/fonts.css") : sheets;
  expect(linesOf(files, literal)).toEqual([]);
});

test.each([
  ["colour", /["'`](#[0-9a-f]{3,8}|(rgb|hsl)a?\([^"'`]*\)|black|white)["'`]/i],
  ["font or size of type", /Overpass|sans-serif|fontSize: |font: ["'`]|["'`][\d.]+(px|rem|pt)\b/],
  ["size of a chart", /\b(height|width|size): ([2-9]|\d\d+),?( |$)/],
  ["width of a line or type of a drawing", /(stroke-width|strokeWidth|font-size)=["{]/],
])("no page and no drawing names a %s of its own", (_, literal) => {
  expect(sources.length).toBeGreaterThan(200);
  expect(linesOf(sources, literal)).toEqual([]);
});

test("every token that is used is there, in the dark look too", () => {
  const defined = new Set([...tokens.matchAll(/^\s*(--[\w-]+):/gm)].map((match) => match[1]));
  const used = [...sheets, "style/tokens.css"].flatMap((file) =>
    [...read(file).matchAll(/var\((--[\w-]+)\)/g)].map((match) => match[1]),
  );
  const drawn = sources.flatMap((file) =>
    [...read(file).matchAll(/\btoken(?:Px)?\("([\w-]+)"\)/g)].map((match) => `--${match[1]}`),
  );
  expect(drawn.length).toBeGreaterThan(20);
  const own = sheets.flatMap((file) =>
    [...read(file).matchAll(/^\s*(--[\w-]+):/gm)].map((match) => match[1]),
  );
  // The wall's measures hang on its screen.
  const wall = read("floor/wall.tsx");
  const known = (name = "") =>
    defined.has(name) || own.includes(name) || wall.includes(`"${name}"`);
  expect([...used, ...drawn].filter((name) => !known(name))).toEqual([]);
  // Chosen by the device and by hand it is the same dark look.
  const dark = tokens.slice(tokens.indexOf("@media"));
  const colours = (text: string) => [...text.matchAll(/(--[\w-]+: #\w+);/g)].map((one) => one[1]);
  const byHand = dark.slice(dark.indexOf('[data-theme="dark"]'));
  expect(colours(byHand).length).toBeGreaterThan(20);
  expect(colours(dark.slice(0, dark.indexOf('[data-theme="light"] {')))).toEqual(colours(byHand));
});

test("the page's frame, the installed program and its sign have colours of the tokens", () => {
  const known = new Set(tokens.match(/#\w{6}\b/g));
  const [light, dark] = tokens.match(/--paper: #\w+/g)?.map((one) => one.slice(-7)) ?? [];
  const frame = [...read("index.html").matchAll(/name="theme-color" content="(#\w+)"/g)];
  expect(frame.map((match) => match[1])).toEqual([light, dark]);
  const installed = [...read("vite.config.ts").matchAll(/_color: "(#\w+)"/g)];
  expect(installed.map((match) => match[1])).toEqual([light, light]);
  const sign = read("public/icon.svg").match(/#\w+/g) ?? [];
  expect(sign.filter((one) => !known.has(one))).toEqual([]);
});
