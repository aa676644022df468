import type { BrowserContextOptions } from "playwright-core";
import { describe, expect, test } from "vitest";
import { sizes } from "./page-checks.ts";
import { openSetup } from "./setup-page.ts";
import { sharedShop, shopInBrowser } from "./shop-in-browser.ts";

const shop = shopInBrowser(sharedShop);

const open = (hash: string, options?: BrowserContextOptions) => openSetup(shop, hash, options);

describe("on a phone", () => {
  test("installable: a manifest with icons, a name and a start, and a worker that keeps the page", async () => {
    const page = await open("#/setup/phone", { serviceWorkers: "allow", viewport: sizes.phone });
    const cdp = await page.context().newCDPSession(page);
    const { errors, data } = await cdp.send("Page.getAppManifest");
    expect(errors).toEqual([]);
    const manifest = JSON.parse(data ?? "{}");
    expect(manifest).toMatchObject({ name: "Leeward", display: "standalone", start_url: "./" });
    expect(manifest.icons.map((icon: { sizes: string }) => icon.sizes)).toEqual(
      expect.arrayContaining(["192x192", "512x512"]),
    );
    await page.waitForFunction(async () => (await navigator.serviceWorker.ready).active !== null);
    expect(await page.locator("[data-need=install]").textContent()).toContain("works here");
    await page.context().close();
  }, 60_000);

  test("a message of an alarm shows itself with no page of its own to help it", async () => {
    const page = await open("#/setup/phone", { serviceWorkers: "allow", viewport: sizes.phone });
    await page.context().grantPermissions(["notifications"], { origin: shop.gateway.url });
    const cdp = await page.context().newCDPSession(page);
    const registered = new Promise<string>((resolve) => {
      cdp.on("ServiceWorker.workerRegistrationUpdated", ({ registrations }) => {
        const found = registrations.find((one) => one.scopeURL.startsWith(shop.gateway.url));
        if (found) resolve(found.registrationId);
      });
    });
    await cdp.send("ServiceWorker.enable");
    await page.waitForFunction(async () => (await navigator.serviceWorker.ready).active !== null);
    const deliver = async (data: string) =>
      cdp.send("ServiceWorker.deliverPushMessage", {
        origin: shop.gateway.url,
        registrationId: await registered,
        data,
      });
    const shown = () =>
      page.evaluate(async () => {
        const list = await (await navigator.serviceWorker.ready).getNotifications();
        return list.map((one) => ({ title: one.title, body: one.body, tag: one.tag }));
      });
    const line = "Slipway: under-shielding, dial 12 L/min now";
    const message = { tag: "a~b~c", line, body: "The float shows 8.", link: null, t: 1764057600 };
    await deliver(JSON.stringify({ ...message, priority: "high", repeat: false }));
    await expect.poll(shown).toEqual([{ title: line, body: "The float shows 8.", tag: "a~b~c" }]);
    // A repeat takes the place of its original; what cannot be read shows all the same.
    await deliver(JSON.stringify({ ...message, priority: "high", repeat: true }));
    await deliver("no json");
    await expect
      .poll(async () => (await shown()).map((one) => one.title).sort())
      .toEqual(["Leeward", line]);
    await page.context().close();
  }, 60_000);

  test("without a network it opens with the last values, marked as old, and Setup too", async () => {
    const page = await open("#/setup", { serviceWorkers: "allow", viewport: sizes.phone });
    await page.waitForFunction(async () => (await navigator.serviceWorker.ready).active !== null);
    await page.waitForFunction(async () =>
      (await indexedDB.databases()).some(({ name }) => name === "leeward"),
    );
    await page.reload();
    await page.waitForSelector(".setup h1");
    const cdp = await page.context().newCDPSession(page);
    await cdp.send("Network.enable");
    await cdp.send("Network.emulateNetworkConditions", {
      offline: true,
      latency: 0,
      downloadThroughput: 0,
      uploadThroughput: 0,
    });
    await page.context().setOffline(true);
    await page.goto(`${shop.gateway.url}/#/`);
    await page.reload();
    await page.waitForSelector("[data-field=lost]");
    await page.waitForSelector(".tile[data-t]");
    expect(await page.locator(".tile[data-fresh=live]").count()).toBe(0);
    expect(await page.locator(".slot-diamond:not(.slot-diamond-hollow)").count()).toBe(0);
    await page.goto(`${shop.gateway.url}/#/setup`);
    await page.waitForSelector(".setup h1");
    await page.context().close();
  }, 60_000);
});
