import type { Page } from "playwright-core";
import { beforeAll, describe, expect, test } from "vitest";
import { getList } from "./gateway-process.ts";
import { artefacts, freshContext, keepPicture, violations } from "./page-checks.ts";
import { sharedShop, shopInBrowser } from "./shop-in-browser.ts";
import { lentWindow } from "./windows.ts";

const shop = shopInBrowser(sharedShop);
let ids: string[];

beforeAll(async () => {
  ids = (await getList(shop.gateway.url)).stations.map((view) => view.id);
}, 300_000);

async function open(locale: string, hash: string): Promise<Page> {
  const context = await lentWindow(shop.browser, {
    viewport: { width: 390, height: 844 },
    locale,
    reducedMotion: "reduce",
    serviceWorkers: "block",
  });
  const page = await context.newPage();
  await page.goto(`${shop.gateway.url}/${hash}`);
  await page.waitForSelector("[data-t]");
  return page;
}

/** Elements that reach beyond the screen's edges, and buttons too narrow for their words, unless what holds them scrolls by itself. */
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
    for (const button of document.querySelectorAll<HTMLElement>(".button, .span-button")) {
      const words = document.createRange();
      words.selectNodeContents(button);
      const [inner, outer] = [words.getBoundingClientRect(), button.getBoundingClientRect()];
      if (inner.width > outer.width - 4) out.push(`words of ${button.textContent}`);
    }
    return out;
  });
}

/** English words that no German or Spanish page holds; what people named themselves may. */
const english = /\b(the|gas is|cylinder|weld needs|float|between|not known|since|set to)\b/i;

describe.each([
  ["de-DE", "de", /Halle|Flasche/],
  ["es-MX", "es", /Taller|Botella/],
] as const)("%s on a phone", (locale, code, own) => {
  test("the Floor speaks it, fits and has no violation", async () => {
    const page = await open(locale, "#/");
    await keepPicture(page, `${artefacts}floor-phone-${code}.png`, true);
    expect(await page.evaluate(() => document.documentElement.lang)).toBe(code);
    const text = await page.evaluate(() => document.body.textContent ?? "");
    expect(text).toMatch(own);
    expect(text.split("\n").filter((line) => english.test(line))).toEqual([]);
    expect(await overflowing(page)).toEqual([]);
    expect(await violations(page)).toEqual([]);
    await page.context().close();
  }, 60_000);

  test("every Station speaks it, fits and has no violation", async () => {
    const page = await open(locale, `#/station/${ids[0]}`);
    for (const id of ids) {
      await page.goto(`${shop.gateway.url}/#/station/${id}`);
      await page.waitForSelector(`main[data-station="${id}"][data-t]`);
      const name = id.replace(/^.*\./, "");
      await keepPicture(page, `${artefacts}station-${name}-${code}.png`, true);
      const text = await page.evaluate(() => document.body.textContent ?? "");
      expect(
        text.split("\n").filter((line) => english.test(line)),
        id,
      ).toEqual([]);
      expect(await overflowing(page), id).toEqual([]);
      expect(await violations(page), id).toEqual([]);
    }
    await page.context().close();
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

test("an address that changes while the language is being fetched is the page that opens", async () => {
  const context = await freshContext(shop.browser, "laptop", "light", false, "de-DE");
  const page = await context.newPage();
  await page.addInitScript(() => {
    document.addEventListener("DOMContentLoaded", () => {
      location.hash = "#/rack";
    });
  });
  await page.goto(`${shop.gateway.url}/`);
  await page.locator("main.rack h1").waitFor();
  await context.close();
});
