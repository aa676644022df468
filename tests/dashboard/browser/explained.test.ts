import { join } from "node:path";
import type { Ledger } from "@leeward/shared-core/api/ledger.ts";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { getList } from "./gateway-process.ts";
import {
  artefacts,
  everyLook,
  freshContext,
  keepPicture,
  type Size,
  schemes,
  sideways,
  violations,
} from "./page-checks.ts";
import { sharedShop, shopInBrowser } from "./shop-in-browser.ts";

// Every figure of Rack, Ledger, Look-back, Bench and Alarms says by a tap how it came about.

const shop = shopInBrowser(sharedShop);

const pages = [
  ["rack", "#/rack", "[data-fitted] .explained"],
  ["ledger", "#/ledger", "[data-row] .explained"],
  ["look-back", "#/look-back/boatyard.hull-bay", "[data-verdict] .explained"],
  ["bench", "#/bench", "[data-field=what-if] .explained"],
  ["alarms", "#/alarms", "[data-field=measures] .explained"],
] as const;

async function open(
  hash: string,
  there: string,
  { size = "laptop", scheme = "light", locale = "en-GB" } = {},
): Promise<Page> {
  const context = await freshContext(shop.browser, size as Size, scheme as "light", false, locale);
  const page = await context.newPage();
  await go(page, hash, there);
  return page;
}

/** Leads an open page to another screen. */
async function go(page: Page, hash: string, there: string): Promise<void> {
  await page.goto(`${shop.gateway.url}/${hash}`);
  await page.locator(there).first().waitFor({ state: "attached", timeout: 60_000 });
  // What a phone folds is opened as a tap would: what is in it must explain itself too.
  await page
    .locator("main .bench-fold:not([open]) > summary")
    .evaluateAll((folds) => folds.map((one) => (one as HTMLElement).click()));
  await page.locator(there).first().waitFor();
}

/** The explanations that stand open, by what they explain; then closed again. */
async function readAndClose(page: Page): Promise<Map<string, string>> {
  const shown = page.locator("dialog[open] [data-explains]");
  await shown.first().waitFor();
  const read = await shown.evaluateAll((all) =>
    all.map((one) => [one.getAttribute("data-explains") ?? "", one.textContent ?? ""] as const),
  );
  await page.keyboard.press("Escape");
  await page.waitForSelector("dialog[open]", { state: "detached" });
  return new Map(read);
}

test.each(pages)(
  "%s: a tap on each figure explains it",
  async (name, hash, there) => {
    const page = await open(hash, there, { size: "phone" });
    const figures = page.locator("main .explained:visible");
    const seen = new Set<string>();
    for (let k = 0; k < (await figures.count()); k++) {
      const title = (await figures.nth(k).getAttribute("title")) ?? "";
      // One of a kind: rows repeat.
      if (seen.has(title)) continue;
      seen.add(title);
      await figures.nth(k).click();
      for (const text of (await readAndClose(page)).values()) {
        expect(text.length, title).toBeGreaterThan(40);
        expect(text, title).not.toMatch(/undefined|NaN|\[object/);
      }
    }
    expect(seen.size, name).toBeGreaterThanOrEqual(3);
    await page.context().close();
  },
  180_000,
);

test("no figure of a table or a list of facts is without its explanation", async () => {
  const page = await open(pages[0][1], pages[0][2]);
  for (const [name, hash, there] of pages) {
    await go(page, hash, there);
    const bare = await page.evaluate(() =>
      [...document.querySelectorAll("main td, main dl dd, main .rack-list small")]
        // A rule of an alarm and an aim of its measures are texts: they explain, and are no figures.
        .filter((cell) => !cell.closest(".alarm-group, [data-aim]"))
        .filter((cell) => /\d/.test(cell.textContent ?? ""))
        .filter((cell) => !cell.querySelector(".explained, a, input") && !cell.closest("form"))
        .map((cell) => cell.textContent),
    );
    expect(bare, name).toEqual([]);
  }
  await page.context().close();
}, 120_000);

test.each(schemes)(
  "by keyboard alone, and accessible: %s",
  { tags: ["looks"], timeout: 180_000 },
  async (scheme) => {
    for (const [turn, [name, hash, there]] of pages.entries()) {
      if (!everyLook && (turn + schemes.indexOf(scheme)) % 2 !== 0) continue;
      const page = await open(hash, there, { size: "phone", scheme });
      const how = page.locator("main .how, main .explained:not([tabindex='-1'])").first();
      await how.focus();
      await page.keyboard.press("Enter");
      await page.locator("dialog[open] [data-explains]").first().waitFor();
      // Its heading is read out first, and nothing behind it can be reached.
      expect(await page.evaluate(() => document.activeElement?.tagName)).toBe("H2");
      expect(await violations(page), name).toEqual([]);
      expect(await sideways(page)).toBeLessThanOrEqual(0);
      await keepPicture(page, join(artefacts, `explained-${name}-${scheme}.png`));
      await readAndClose(page);
      expect(await how.evaluate((one) => one === document.activeElement)).toBe(true);
      await page.context().close();
    }
  },
);

test("a row of the Ledger tells all its figures at once, and what its cost rests on", async () => {
  const page = await open("#/ledger", "[data-row] .explained");
  const { now } = await getList(shop.gateway.url);
  const answer = await fetch(
    `${shop.gateway.url}/api/v1/sites/boatyard/ledger?from=${now - 86_400}&to=${now}&by=day`,
  );
  const row = ((await answer.json()) as Ledger).rows.find((one) => one.cost !== null);
  if (!row) throw new Error("no station of the virtual shop has a price of a fill");
  const { stations } = await getList(shop.gateway.url);
  const price = stations.find((one) => one.id === row.station)?.description.cylinder?.pricePerFill;
  const shown = page.locator(`[data-row="${row.station}"]`).first();
  await shown.locator(".how").click();
  const told = await readAndClose(page);
  expect([...told.keys()]).toEqual(
    ["starts", "gas-on", "used", "lost", "cost", "mean", "verdict"].map((one) => `record-${one}`),
  );
  expect(told.get("record-cost")).toContain(`Price of a fill€${price?.toFixed(2)}`);
  expect(told.get("record-cost")).toContain(
    `Used (95 %)${await shown.locator("[data-field=used]").textContent()}`,
  );
  await page.context().close();
}, 60_000);

test("what is not known says why, and not how it was computed from nothing", async () => {
  const page = await open("#/ledger", "[data-row] .explained");
  const unknown = page.locator("[data-field=lost] .explained", { hasText: "–" }).first();
  await unknown.click();
  const text = (await readAndClose(page)).get("record-lost") ?? "";
  expect(text).toContain("Not known: no standing loss was kept of this time.");
  await page.context().close();
}, 60_000);

test("a fitted bench test explains verdict, residuals, parameters and card", async () => {
  const page = await open("#/bench", "[data-field=what-if] .explained");
  await page.locator("input[type=file]").setInputFiles({
    name: "rows.csv",
    mimeType: "text/csv",
    // Invented: how a sound device would read.
    buffer: Buffer.from(
      "cylinder_bar,line_bar,indicated,true_lpm,true_u_percent,action\n150,3.45,8,8.0,1.5,set\n100,3.40,8,7.95,1.5,redialled\n60,3.36,8,7.9,1.5,redialled\n",
    ),
  });
  await page.getByText("3 rows can be used.").waitFor();
  await page.getByRole("button", { name: "Work it out" }).click();
  await page.locator("[data-consistent]").waitFor({ timeout: 60_000 });
  await page.locator("[data-consistent] .how").click();
  expect([...(await readAndClose(page)).keys()]).toEqual([
    "fit-verdict",
    "fit-residual",
    "fit-parameter",
  ]);
  await page.locator(".dial-card .how").click();
  expect([...(await readAndClose(page)).keys()]).toEqual(["card-reading", "card-within"]);
  expect(await violations(page)).toEqual([]);
  await page.context().close();
}, 120_000);

test.each(["de-DE", "es-ES"])(
  "told in the reader's language: %s",
  async (locale) => {
    const phone = await open(pages[0][1], pages[0][2], { size: "phone", locale });
    for (const [name, hash, there] of pages) {
      await go(phone, hash, there);
      expect(await sideways(phone), name).toBeLessThanOrEqual(0);
    }
    await phone.context().close();
    const english = await open("#/ledger", "[data-row] .how");
    const other = await open("#/ledger", "[data-row] .how", { locale });
    const texts = [];
    for (const page of [english, other]) {
      await page.locator("[data-row] .how").first().click();
      texts.push((await readAndClose(page)).get("record-gas-on") ?? "");
      await page.context().close();
    }
    expect(texts[1]?.length).toBeGreaterThan(40);
    expect(texts[1]).not.toBe(texts[0]);
    expect(texts[1]).toContain("0,02 L/min");
  },
  120_000,
);
