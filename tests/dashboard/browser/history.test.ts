import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { yearStation } from "../../bench/dashboard/shop.ts";
import { artefacts, keepPicture } from "./page-checks.ts";
import { sharedYear, shopInBrowser } from "./shop-in-browser.ts";
import { lentWindow } from "./windows.ts";

const shop = shopInBrowser(sharedYear);

async function open(width: number, hasTouch = false): Promise<Page> {
  const context = await lentWindow(shop.browser, {
    viewport: { width, height: 900 },
    locale: "en-GB",
    reducedMotion: "reduce",
    serviceWorkers: "block",
    hasTouch,
  });
  const page = await context.newPage();
  await page.goto(`${shop.gateway.url}/#/station/${yearStation}`);
  await page.waitForSelector(".uplot");
  return page;
}

/** From and to of the chart, as its heading says them. */
const windowText = (page: Page) => page.locator(".history-window").textContent();

test("a year is in view, zooms about its middle by keys and buttons, and leads back to now", async () => {
  const page = await open(1280);
  await page.getByRole("button", { name: "1 year" }).click();
  await page.waitForSelector(".chart[data-span='1y']");
  expect(await windowText(page)).toMatch(/^\d+ \w+ \d{4} to \d\d:\d\d$/);
  const chart = page.locator(".chart");
  await chart.focus();
  await page.keyboard.press("ArrowLeft");
  await expect.poll(() => windowText(page)).toMatch(/^\d+ \w+ \d{4} to \d+ \w+$/);
  await page.keyboard.press("End");
  for (let press = 0; press < 12; press++) await page.keyboard.press("+");
  await page.waitForSelector(".chart[data-span='other']");
  // 366 days / 1.5^12 is 2.8 days: both ends carry their time now.
  await expect.poll(() => windowText(page)).toMatch(/\d\d:\d\d to .*\d\d:\d\d$/);
  const before = await windowText(page);
  await page.getByRole("button", { name: "Wider" }).click();
  await expect.poll(() => windowText(page)).not.toBe(before);
  await page.getByRole("button", { name: "Now", exact: true }).click();
  await keepPicture(page, `${artefacts}history-year.png`, true);
  await page.context().close();
}, 60_000);

test("dragging pans the chart, and what lies further back is fetched", async () => {
  const page = await open(1280);
  await page.getByRole("button", { name: "1 day" }).click();
  await page.waitForSelector(".chart[data-span='1d']");
  const asked: string[] = [];
  page.on("request", (request) => {
    if (request.url().includes("/history?")) asked.push(request.url());
  });
  const plot = page.locator(".chart-plot").first();
  await plot.scrollIntoViewIfNeeded();
  const box = await plot.boundingBox();
  if (!box) throw new Error("no chart");
  const before = await windowText(page);
  for (let drag = 0; drag < 2; drag++) {
    await page.mouse.move(box.x + 100, box.y + 50);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width - 100, box.y + 50, { steps: 10 });
    await page.mouse.up();
  }
  await expect.poll(() => windowText(page)).not.toBe(before);
  await expect.poll(() => asked.length).toBeGreaterThan(0);
  // The cursors of all panels stand at one moment, and each says its figure.
  await page.mouse.move(box.x + box.width / 2, box.y + 50);
  const titles = page.locator(".chart-title span");
  await expect.poll(() => titles.nth(0).textContent()).toMatch(/^at .+: (true .+|off)$/);
  await expect.poll(() => titles.nth(1).textContent()).toMatch(/^\d+$/);
  await expect.poll(() => titles.nth(2).textContent()).toMatch(/^\d\.\d\d$/);
  await page.context().close();
}, 60_000);

test("two fingers zoom", async () => {
  const page = await open(390, true);
  await page.getByRole("button", { name: "1 week" }).click();
  await page.waitForSelector(".chart[data-span='1w']");
  const plot = page.locator(".chart-plot").first();
  await plot.scrollIntoViewIfNeeded();
  const box = await plot.boundingBox();
  if (!box) throw new Error("no chart");
  const session = await page.context().newCDPSession(page);
  const y = box.y + box.height / 2;
  const fingers = (apart: number) => [
    { x: box.x + box.width / 2 - apart, y, id: 1 },
    { x: box.x + box.width / 2 + apart, y, id: 2 },
  ];
  const touch = (type: "touchStart" | "touchMove" | "touchEnd", apart: number | null) =>
    session.send("Input.dispatchTouchEvent", {
      type,
      touchPoints: apart === null ? [] : fingers(apart),
    });
  const before = await windowText(page);
  await touch("touchStart", 20);
  for (const apart of [30, 45, 60, 80]) await touch("touchMove", apart);
  await touch("touchEnd", null);
  await expect.poll(() => windowText(page)).not.toBe(before);
  // A quarter of a week: both ends within two days.
  await expect.poll(() => windowText(page)).toMatch(/\d\d:\d\d/);
  await page.context().close();
}, 60_000);
