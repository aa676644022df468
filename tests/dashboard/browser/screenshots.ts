import { fileURLToPath } from "node:url";
import type { Page } from "playwright-core";
import { startGateway } from "./gateway-process.ts";
import { launchBrowser, type Scheme } from "./page-checks.ts";

// `npm run screenshots`: the pictures of README and docs, made anew from the demo as it starts.

const folder = fileURLToPath(new URL("../../../docs/screenshots/", import.meta.url));

interface Picture {
  name: string;
  hash: string;
  width: number;
  height: number;
  scheme?: Scheme;
  /** Pixels of the device in one of the page: two, where a picture shows a phone. */
  scale?: number;
  ready: string;
  act?: (page: Page) => Promise<void>;
}

const live = "[data-fresh=live]";
const hullBay = "#/station/boatyard.hull-bay";
const pictures: readonly Picture[] = [
  { name: "floor", hash: "#/", width: 1920, height: 1080, ready: live },
  { name: "floor-dark", hash: "#/", width: 1920, height: 1080, scheme: "dark", ready: live },
  { name: "wall", hash: "#/wall", width: 1920, height: 1080, ready: live },
  { name: "station", hash: hullBay, width: 1280, height: 1412, ready: ".uplot" },
  {
    ...{ name: "station-phone", hash: "#/station/boatyard.slipway", width: 390, height: 844 },
    ...{ scale: 2, scheme: "dark", ready: live },
  },
  {
    ...{ name: "look-back", hash: "#/look-back", width: 1280, height: 1560 },
    ready: "[data-verdict]",
    act: async (page) => {
      await page.getByLabel("Station").selectOption({ label: "Hull bay, TIG aluminium" });
      await page.getByRole("button", { name: "Last hour" }).click();
    },
  },
  { name: "alarms", hash: "#/alarms", width: 1280, height: 868, ready: "[data-group]" },
  {
    name: "rack-dark",
    hash: "#/rack",
    width: 1280,
    height: 985,
    scheme: "dark",
    ready: ".rack-card",
  },
  { name: "ledger", hash: "#/ledger", width: 1280, height: 1344, ready: "[data-row]" },
  {
    ...{ name: "setup", hash: "#/setup/station/boatyard.prop-shop", width: 1280, height: 1264 },
    ready: ".setup-form",
    act: async (page) => {
      await page.locator("[data-step=sensors]").click();
    },
  },
];

const only = process.argv.slice(2);
const gateway = await startGateway(240_000, undefined, ["--demo-hours", "3.5"]);
const browser = await launchBrowser();
try {
  for (const one of pictures) {
    if (only.length > 0 && !only.includes(one.name)) continue;
    const context = await browser.newContext({
      viewport: { width: one.width, height: one.height },
      deviceScaleFactor: one.scale ?? 1,
      colorScheme: one.scheme ?? "light",
      locale: "en-GB",
      reducedMotion: "reduce",
      serviceWorkers: "block",
    });
    const page = await context.newPage();
    await page.goto(`${gateway.url}/${one.hash}`);
    if (one.name !== "look-back") await page.waitForSelector(one.ready, { timeout: 60_000 });
    await one.act?.(page);
    await page.waitForSelector(one.ready, { timeout: 60_000 });
    await page.evaluate(() => document.fonts.ready);
    // What beside the first answer is still on its way, and is drawn.
    await page.waitForTimeout(2500);
    await page.screenshot({ path: `${folder}${one.name}.png` });
    console.log(`docs/screenshots/${one.name}.png`);
    await context.close();
  }
} finally {
  await browser.close();
  await gateway.stop();
}
