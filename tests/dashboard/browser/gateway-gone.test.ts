import { mkdir } from "node:fs/promises";
import type { BrowserContext, Page } from "playwright-core";
import { beforeAll, describe, expect, test } from "vitest";
import { startYoung } from "./gateway-process.ts";
import {
  artefacts,
  freshContext,
  keepPicture,
  looksOf,
  sideways,
  violations,
} from "./page-checks.ts";
import { shopInBrowser } from "./shop-in-browser.ts";

// The gateway's process really ends while pages are open; then they are opened without it.

const pictures = `${artefacts}gateway-gone/`;
const shop = shopInBrowser(startYoung);
const looks = looksOf(0)
  .filter(({ size }) => size !== "laptop")
  .map((look) => ({ ...look, name: `${look.size}-${look.scheme}` }));
type Named = (typeof looks)[number];

/** Pages of each look as they were opened while the gateway answered. */
const open = new Map<
  string,
  { context: BrowserContext; floor: Page; station: Page; wall: Page; rack: Page; alarms: Page }
>();
let station = "";

const pageOf = (look: Named) => {
  const found = open.get(look.name);
  if (!found) throw new Error(`no pages for ${look.name}`);
  return found;
};

beforeAll(async () => {
  await mkdir(pictures, { recursive: true });
  for (const look of looks) {
    const context = await freshContext(shop.browser, look.size, look.scheme, true);
    const at = async (hash: string, live: string) => {
      const page = await context.newPage();
      await page.goto(`${shop.gateway.url}/${hash}`);
      await page.waitForSelector(live, { timeout: 60_000 });
      return page;
    };
    const floor = await at("#/", ".tile[data-fresh=live]");
    station ||= (await floor
      .locator(".tile[data-fresh=live]")
      .first()
      .getAttribute("data-station"))!;
    const pages = {
      context,
      floor,
      station: await at(`#/station/${station}`, "main[data-fresh=live]"),
      wall: await at("#/wall", ".tile[data-fresh=live]"),
      rack: await at("#/rack", ".rack-card:not(.is-old)"),
      alarms: await at("#/alarms", "[data-group]"),
    };
    // What an opening without the gateway needs: the program's files and the last values.
    await floor.waitForFunction(
      async () => (await navigator.serviceWorker.ready).active?.state === "activated",
    );
    await floor.waitForFunction(async () =>
      (await indexedDB.databases()).some(({ name }) => name === "leeward"),
    );
    open.set(look.name, pages);
  }
  await shop.gateway.stop();
}, 300_000);

/** Nothing on the page looks live, and the page says so where one looks first. */
async function expectHonest(page: Page): Promise<void> {
  await page.locator("[data-field=lost]").waitFor({ timeout: 30_000 });
  await expect.poll(() => page.locator("[data-fresh=live]").count()).toBe(0);
  expect(await page.locator(".slot-diamond:not(.slot-diamond-hollow)").count()).toBe(0);
  expect(await page.locator("[data-connection=live]").count()).toBe(0);
  const told = (await page.locator("[data-field=lost]").textContent()) ?? "";
  expect(told).toMatch(/^The gateway does not answer\. Nothing here is live since \d\d:\d\d/);
  for (const text of await page.locator("[data-field=sentence]").allTextContents()) {
    expect(text).not.toMatch(/^Gas flow is right/);
  }
  for (const age of await page.locator("[data-field=age]").allTextContents()) {
    expect(age).toMatch(/^old: /);
  }
  const banner = await page.locator("[data-field=lost]").boundingBox();
  expect(banner?.y).toBeLessThan(40);
  expect(await sideways(page)).toBe(0);
}

/** The page, and each alarm on it, says of when it is, before anything that it shows. */
async function expectLastKnown(page: Page): Promise<void> {
  const note = page.locator("[data-field=old-page]");
  await note.waitFor({ timeout: 30_000 });
  expect(await note.textContent()).toMatch(
    /^Last known \d\d:\d\d, \d+ (s|min) ago\. What has changed since is not shown here\.$/,
  );
  for (const facts of await page.locator("[data-state=unacknowledged] .alarm-facts").all()) {
    expect(await facts.textContent()).toMatch(/Last known .+ ago\./);
  }
  const shown = page.locator("main .card, main .rack-card, main [data-group]").first();
  const [noteBox, box] = [await note.boundingBox(), await shown.boundingBox()];
  expect(noteBox?.y).toBeLessThan(box?.y ?? 0);
}

const keep = (page: Page, name: string) => keepPicture(page, `${pictures}${name}.png`);

describe.each(looks)("without its gateway, $name", { tags: ["looks"] }, (look) => {
  test.each(["floor", "station", "wall", "rack", "alarms"] as const)(
    "%s that was open",
    async (name) => {
      const page = pageOf(look)[name];
      await page.bringToFront();
      await expectHonest(page);
      if (name === "rack" || name === "alarms") await expectLastKnown(page);
      await keep(page, `open-${name}-${look.name}`);
      expect(await violations(page)).toEqual([]);
    },
    90_000,
  );

  test.each([
    ["floor", "#/", ".tile[data-fresh=old]"],
    ["station", "#/station/", "main[data-fresh=old]"],
  ])(
    "%s opened afterwards shows the last values, as old",
    async (name, hash, there) => {
      const page = await pageOf(look).context.newPage();
      await page.goto(`${shop.gateway.url}/${hash}${name === "station" ? station : ""}`);
      await page.locator(there).first().waitFor({ timeout: 30_000 });
      await expectHonest(page);
      await keep(page, `opened-${name}-${look.name}`);
      expect(await violations(page)).toEqual([]);
      await page.close();
    },
    90_000,
  );

  test.each([
    ["rack", "#/rack", "[data-field=order] tbody tr"],
    ["alarms", "#/alarms", "[data-group] .alarm-title"],
  ])(
    "%s opened afterwards shows what was known last, as old",
    async (name, hash, there) => {
      const page = await pageOf(look).context.newPage();
      await page.goto(`${shop.gateway.url}/${hash}`);
      await page.locator(there).first().waitFor({ timeout: 30_000 });
      await expectHonest(page);
      await expectLastKnown(page);
      await keep(page, `opened-${name}-${look.name}`);
      expect(await violations(page)).toEqual([]);
      await page.close();
    },
    90_000,
  );

  test.each([
    ["look-back", "#/look-back"],
    ["ledger", "#/ledger"],
    ["setup-shop", "#/setup/shop"],
    ["setup-station", "#/setup/station/"],
  ])(
    "%s opened afterwards says that it cannot be fetched",
    async (name, hash) => {
      const page = await pageOf(look).context.newPage();
      await page.goto(`${shop.gateway.url}/${hash}${name === "setup-station" ? station : ""}`);
      await page.locator("[data-field=lost]").waitFor({ timeout: 30_000 });
      await page.locator("main .problem, main .caution").first().waitFor({ timeout: 30_000 });
      // It does not say in the same breath that it still asks.
      expect(await page.locator("main .empty").count()).toBe(0);
      expect(await sideways(page)).toBe(0);
      await keep(page, `opened-${name}-${look.name}`);
      await page.close();
    },
    90_000,
  );
});
