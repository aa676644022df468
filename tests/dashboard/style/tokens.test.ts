import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";

// Colours, sizes of type, radii and targets have their names in one file; the others use these.

const root = new URL("../../../dashboard/", import.meta.url).pathname;
const read = (file: string) => readFileSync(join(root, file), "utf8");
/** The pages of setting up and testing, what is built, and the tokens themselves are not among them. */
const leftOut = /^(dist|setup|bench|node_modules|public)$/;
const sheets = readdirSync(root, { withFileTypes: true })
  .filter((one) => one.isDirectory() && !leftOut.test(one.name))
  .flatMap(({ name }) => readdirSync(join(root, name)).map((file) => join(name, file)))
  .filter((file) => file.endsWith(".css") && !file.endsWith("tokens.css"));

function lines(of: RegExp): string[] {
  return sheets.flatMap((file) =>
    read(file)
      .split("\n")
      .filter((line) => of.test(line))
      .map((line) => `${file}: ${line.trim()}`),
  );
}

test.each([
  ["colour", /#[0-9a-f]{3,8}\b|\b(rgb|hsl)a?\(/i],
  // Paper has its own, in points.
  ["size of type", /font-size: [\d.]+(rem|px)/],
  ["radius", /border-radius: [\d.]+px/],
  ["target of a hand", /\b(64|44)px\b/],
])("no style sheet names a %s of its own", (_, literal) => {
  expect(sheets.length).toBeGreaterThan(8);
  expect(lines(literal)).toEqual([]);
});

test("every token that is used is there, in the dark look too", () => {
  const tokens = read("style/tokens.css");
  const defined = new Set([...tokens.matchAll(/^\s*(--[\w-]+):/gm)].map((match) => match[1]));
  const used = sheets.flatMap((file) =>
    [...read(file).matchAll(/var\((--[\w-]+)\)/g)].map((match) => match[1]),
  );
  const own = sheets.flatMap((file) =>
    [...read(file).matchAll(/^\s*(--[\w-]+):/gm)].map((match) => match[1]),
  );
  // The wall's measures hang on its screen.
  const wall = read("floor/wall.tsx");
  const known = (name = "") =>
    defined.has(name) || own.includes(name) || wall.includes(`"${name}"`);
  expect(used.filter((name) => !known(name))).toEqual([]);
  // Chosen by the device and by hand it is the same dark look.
  const dark = tokens.slice(tokens.indexOf("@media"));
  const colours = (text: string) => [...text.matchAll(/(--[\w-]+: #\w+);/g)].map((one) => one[1]);
  const byHand = dark.slice(dark.indexOf('[data-theme="dark"]'));
  expect(colours(byHand).length).toBeGreaterThan(20);
  expect(colours(dark.slice(0, dark.indexOf('[data-theme="light"] {')))).toEqual(colours(byHand));
});

test("the installed program has the colour of the page's paper", () => {
  const paper = /--paper: (#\w+);/.exec(read("style/tokens.css"))?.[1];
  const manifest = readFileSync(join(root, "vite.config.ts"), "utf8");
  for (const name of ["background_color", "theme_color"]) {
    expect(manifest).toContain(`${name}: "${paper}"`);
  }
});
