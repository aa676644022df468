import { expect, test } from "vitest";
import { getList } from "./gateway-process.ts";
import { freshContext, sideways } from "./page-checks.ts";
import { sharedShop, shopInBrowser } from "./shop-in-browser.ts";

// As over plain http from another machine: the browser has no camera to lend.

const shop = shopInBrowser(sharedShop);

test("what is welded: without https it is said that codes can be typed, and how to get the camera", async () => {
  const [station] = (await getList(shop.gateway.url)).stations;
  for (const [locale, typed] of [
    ["en-GB", "Codes can be typed."],
    ["de-DE", "Codes lassen sich eintippen."],
    ["es-ES", "Los códigos se pueden escribir."],
  ] as const) {
    const context = await freshContext(shop.browser, "phone", "light", false, locale);
    await context.addInitScript(() => {
      Object.defineProperty(Navigator.prototype, "mediaDevices", { get: () => undefined });
    });
    const page = await context.newPage();
    await page.goto(`${shop.gateway.url}/#/station/${station?.id}`);
    await page.locator(".actions .button").nth(3).click();
    const line = page.getByRole("dialog").locator("[data-field=no-camera]");
    expect(await line.textContent()).toContain(typed);
    expect(await sideways(page)).toBe(0);
    await line.getByRole("link").click();
    await page.waitForURL(/#\/setup\/phone$/);
    expect(await page.getByRole("dialog").count()).toBe(0);
    await context.close();
  }
});
