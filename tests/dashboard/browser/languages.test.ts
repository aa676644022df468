import { readFileSync } from "node:fs";
import { mkdir } from "node:fs/promises";
import { createRequire } from "node:module";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { getList, type RunningGateway, startGateway } from "./gateway-process.ts";

const axeSource = readFileSync(
  createRequire(import.meta.url).resolve("axe-core/axe.min.js"),
  "utf8",
);
const artefacts = new URL("../../../artefacts/dashboard/", import.meta.url).pathname;

let gateway: RunningGateway;
let browser: Browser;
let ids: string[];

beforeAll(async () => {
  await mkdir(artefacts, { recursive: true });
  gateway = await startGateway();
  browser = await chromium.launch({
    executablePath: "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"],
  });
  ids = (await getList(gateway.url)).stations.map((view) => view.id);
}, 300_000);

afterAll(async () => {
  await browser?.close();
  await gateway?.stop();
}, 30_000);

async function open(locale: string, hash: string): Promise<Page> {
  const context = await browser.newContext({
    viewport: { width: 390, height: 844 },
    locale,
    reducedMotion: "reduce",
    serviceWorkers: "block",
  });
  const page = await context.newPage();
  await page.goto(`${gateway.url}/${hash}`);
  await page.waitForSelector("[data-t]");
  return page;
}

/** Elements that reach beyond the screen's edges, unless what holds them scrolls by itself. */
function overflowing(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const wide = document.documentElement.clientWidth;
    const out: string[] = [];
    if (document.documentElement.scrollWidth > wide) out.push("the page");
    for (const element of document.querySelectorAll<HTMLElement>("body *")) {
      const box = element.getBoundingClientRect();
      if (box.width === 0 || element.closest("svg, .visually-hidden, .skip, .chart-strip"))
        continue;
      let holder: HTMLElement | null = element;
      while (holder && !/auto|scroll/.test(getComputedStyle(holder).overflowX)) {
        holder = holder.parentElement;
      }
      if (!holder && (box.right > wide + 1 || box.left < -1)) out.push(element.className);
    }
    return out;
  });
}

function violations(page: Page): Promise<{ id: string; nodes: string[] }[]> {
  return page.evaluate(axeSource).then(() =>
    page.evaluate(async () => {
      const { axe } = window as unknown as {
        axe: {
          run(
            where: Document,
            options: object,
          ): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }>;
        };
      };
      const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
      const found = await axe.run(document, { runOnly: tags });
      return found.violations.map(({ id, nodes }) => ({
        id,
        nodes: nodes.map(({ html }) => html),
      }));
    }),
  );
}

/** English words that no German or Spanish page holds; what people named themselves may. */
const english = /\b(the|gas is|cylinder|weld needs|float|between|not known|since|set to)\b/i;

describe.each([
  ["de-DE", "de", /Halle|Flasche/],
  ["es-MX", "es", /Taller|Botella/],
] as const)("%s on a phone", (locale, code, own) => {
  test("the Floor speaks it, fits and has no violation", async () => {
    const page = await open(locale, "#/");
    await page.screenshot({ path: `${artefacts}floor-phone-${code}.png`, fullPage: true });
    expect(await page.evaluate(() => document.documentElement.lang)).toBe(code);
    const text = await page.evaluate(() => document.body.textContent ?? "");
    expect(text).toMatch(own);
    expect(text.split("\n").filter((line) => english.test(line))).toEqual([]);
    expect(await overflowing(page)).toEqual([]);
    expect(await violations(page)).toEqual([]);
    await page.context().close();
  }, 60_000);

  test("every Station speaks it, fits and has no violation", async () => {
    for (const id of ids) {
      const page = await open(locale, `#/station/${id}`);
      const name = id.replace(/^.*\./, "");
      await page.screenshot({ path: `${artefacts}station-${name}-${code}.png`, fullPage: true });
      const text = await page.evaluate(() => document.body.textContent ?? "");
      expect(
        text.split("\n").filter((line) => english.test(line)),
        id,
      ).toEqual([]);
      expect(await overflowing(page), id).toEqual([]);
      expect(await violations(page), id).toEqual([]);
      await page.context().close();
    }
  }, 240_000);
});

test("a language chosen in the settings holds at once and after a reload", async () => {
  const page = await open("en-GB", "#/");
  await page.click("header .link-button");
  await page.check("input[name='language'][value='es']", { force: true });
  await page.waitForFunction(() => document.documentElement.lang === "es");
  expect(await page.textContent("dialog h2")).toBe("Idioma, unidades y aspecto");
  await page.reload();
  await page.waitForSelector("[data-t]");
  expect(await page.evaluate(() => document.documentElement.lang)).toBe("es");
  await page.context().close();
}, 60_000);
