import { type Browser, chromium } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type RunningGateway, startGateway } from "./gateway-process.ts";

let gateway: RunningGateway;
let browser: Browser;

beforeAll(async () => {
  gateway = await startGateway();
  browser = await chromium.launch({
    executablePath: "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"],
  });
}, 300_000);

afterAll(async () => {
  await browser?.close();
  await gateway?.stop();
}, 30_000);

test("a gateway that is gone is visible at once, and the page opens without it", async () => {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  const page = await context.newPage();
  await page.goto(`${gateway.url}/`);
  await page.waitForSelector(".tile[data-fresh=live]");
  // The service worker keeps the page itself.
  await page.waitForFunction(async () => (await navigator.serviceWorker.ready).active !== null);
  await page.waitForFunction(() => localStorage.getItem("leeward.last-list.1") !== null);
  await page.reload();
  await page.waitForSelector(".tile[data-fresh=live]");
  expect(await page.locator("[data-field=lost]").count()).toBe(0);

  await gateway.stop();
  await page.waitForSelector("[data-field=lost]", { timeout: 3000 });
  await expectAllOld();

  // Opened anew with no gateway at all: the last values, marked as old.
  await page.reload();
  await page.waitForSelector("[data-field=lost]", { timeout: 10_000 });
  await expectAllOld();

  async function expectAllOld(): Promise<void> {
    const tiles = page.locator(".tile");
    const count = await tiles.count();
    expect(count).toBeGreaterThanOrEqual(6);
    expect(await page.locator(".tile[data-fresh=live]").count()).toBe(0);
    expect(await page.locator(".slot-diamond:not(.slot-diamond-hollow)").count()).toBe(0);
    const ages = await page.locator(".tile [data-field=age]").allTextContents();
    for (const age of ages) expect(age).toMatch(/^old: .+ ago$|^no data yet$/);
    expect(await page.locator(".link-state").first().textContent()).toContain("not live");
    const [ink, second] = await page.evaluate(() => {
      const style = getComputedStyle(document.documentElement);
      const probe = document.createElement("i");
      document.body.append(probe);
      const colours = ["--ink", "--ink-2"].map((name) => {
        probe.style.color = style.getPropertyValue(name);
        return getComputedStyle(probe).color;
      });
      probe.remove();
      return colours;
    });
    const shown = await page
      .locator(".tile .flow-number")
      .first()
      .evaluate((element) => getComputedStyle(element).color);
    expect(shown).toBe(second);
    expect(shown).not.toBe(ink);
  }
}, 120_000);
