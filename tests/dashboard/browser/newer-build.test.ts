import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { sharedShop, shopInBrowser } from "./shop-in-browser.ts";

const shop = shopInBrowser(sharedShop);
const chunk = (name: string) => new RegExp(`/assets/${name}-[^/]*\\.js$`);

/** A window without a service worker, as over plain http; what it loads anew is counted. */
async function open(hash: string): Promise<{ page: Page; loads: () => number }> {
  const context = await shop.browser.newContext({ locale: "en-GB", serviceWorkers: "block" });
  const page = await context.newPage();
  let loads = 0;
  page.on("load", () => {
    loads++;
  });
  await page.goto(`${shop.gateway.url}/${hash}`);
  await page.waitForSelector("main[data-fresh=live], .tile[data-t]");
  return { page, loads: () => loads };
}

/** The parts are gone, as after builds under an open page; `newer` tells whether the page names others. */
async function takeAway(page: Page, part: RegExp, newer: boolean): Promise<() => Promise<void>> {
  await page.route(part, (route) => route.fulfill({ status: 404, body: "" }));
  if (newer) {
    await page.route(/\/\?now=\d+$/, async (route) => {
      const answer = await route.fetch();
      const html = (await answer.text()).replace(/index-[^"]+\.js/, "index-OTHER.js");
      await route.fulfill({ response: answer, body: html });
    });
  }
  return () => page.unroute(part);
}

test("a page whose part is gone with a newer program is loaded anew by itself, once, and then stands", async () => {
  const { page, loads } = await open("#/");
  const bring = await takeAway(page, chunk("rack"), true);
  page.on("request", (request) => {
    if (request.isNavigationRequest()) void bring();
  });
  await page.getByRole("link", { name: "Rack" }).click();
  await page.waitForSelector(".rack-card");
  await expect.poll(loads).toBe(2);
  await page.context().close();
}, 60_000);

test("it is not loaded for ever where that does not help: it says so, with the way on", async () => {
  const { page, loads } = await open("#/");
  const bring = await takeAway(page, chunk("rack"), true);
  await page.getByRole("link", { name: "Rack" }).click();
  const again = page.getByRole("button", { name: "Load again" });
  await again.waitFor();
  await page.waitForTimeout(1500);
  expect(loads()).toBe(2);
  await bring();
  await again.click();
  await page.waitForSelector(".rack-card");
  await page.context().close();
}, 60_000);

test("while the program is the same, or no page answers, nothing is loaded by itself", async () => {
  const { page, loads } = await open("#/");
  await takeAway(page, chunk("ledger"), false);
  await page.getByRole("link", { name: "Ledger" }).click();
  await page.getByRole("button", { name: "Load again" }).waitFor();
  await page.waitForTimeout(1500);
  expect(loads()).toBe(1);
  await page.context().close();
}, 60_000);

test("a part of a page never loads it anew: what is typed there stays, and the way on is offered", async () => {
  const { page, loads } = await open("#/");
  const first = await page.locator(".tile[data-t]").first().getAttribute("data-station");
  await takeAway(page, chunk("(code-scanner|explain-dialog|leak-test-dialog)"), true);
  await page.goto(`${shop.gateway.url}/#/station/${first}`);
  const figure = page.locator(".explained").first();
  await figure.click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("button", { name: "Load again" }).waitFor();
  await dialog.getByRole("button", { name: "Cancel" }).click();
  await page.getByRole("button", { name: "Cylinder changed" }).click();
  const lot = page.getByLabel("Batch or lot on the label");
  await lot.fill("L-77");
  await page.waitForTimeout(1000);
  expect(await lot.inputValue()).toBe("L-77");
  expect(loads()).toBe(1);
  await page.context().close();
}, 60_000);
