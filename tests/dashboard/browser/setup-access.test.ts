import type { BrowserContextOptions } from "playwright-core";
import { beforeAll, describe, expect, test } from "vitest";
import { getList } from "./gateway-process.ts";
import {
  allLooks,
  artefacts,
  isSeenIn,
  keepPicture,
  sideways,
  sizes,
  violations,
} from "./page-checks.ts";
import { openSetup } from "./setup-page.ts";
import { sharedShop, shopInBrowser } from "./shop-in-browser.ts";

const shop = shopInBrowser(sharedShop);
let site: string;

beforeAll(async () => {
  site = (await getList(shop.gateway.url)).stations[0]?.site ?? "";
}, 300_000);

const open = (hash: string, options?: BrowserContextOptions) => openSetup(shop, hash, options);

describe("every place of Setup is accessible and fits its screen", () => {
  test.each(allLooks)(
    "$size, $scheme",
    { tags: ["looks"], timeout: 180_000 },
    async ({ size, scheme }) => {
      const page = await open("#/setup", { viewport: sizes[size], colorScheme: scheme });
      const station = `${site}.slipway`;
      const places = ["", "/new", "/shop", "/phone", `/label/${station}`, `/station/${station}`];
      for (const [turn, place] of places.entries()) {
        const steps = (place.startsWith("/station") ? [1, 2, 3, 4, 5, 6] : [0]).filter((step) =>
          isSeenIn({ size, scheme }, turn + step),
        );
        if (steps.length === 0) continue;
        await page.goto(`${shop.gateway.url}/#/setup${place}`);
        await page.waitForSelector(".setup h1");
        for (const step of steps) {
          if (step > 0)
            await page
              .locator(".setup-steps button")
              .nth(step - 1)
              .click();
          await page.waitForTimeout(150);
          const name = place.split("/")[1] || "home";
          await keepPicture(
            page,
            `${artefacts}setup-${name}${step || ""}-${size}-${scheme}.png`,
            true,
          );
          expect(await violations(page), `${place} ${step}`).toEqual([]);
          expect(await sideways(page), `${place} ${step} scrolls sideways`).toBe(0);
          if (step > 0 && size === "phone") {
            // The steps take one line, so that the first field is on the first screen.
            const bar = await page.locator(".setup-steps").boundingBox();
            expect(bar?.height).toBeLessThan(60);
          }
        }
      }
      await page.context().close();
    },
  );

  test("text at 200 %, in a window of half the width, loses nothing", async () => {
    const page = await open("#/setup", { viewport: { width: 640, height: 800 } });
    await page.addStyleTag({ content: "html { font-size: 200% !important; }" });
    const station = `${site}.slipway`;
    for (const place of [
      "",
      "/new",
      "/shop",
      "/phone",
      `/label/${station}`,
      `/station/${station}`,
    ]) {
      await page.goto(`${shop.gateway.url}/#/setup${place}`);
      await page.waitForSelector(".setup h1");
      expect(await sideways(page), place).toBe(0);
      const cut = await page.evaluate(() =>
        [
          ...document.querySelectorAll<HTMLElement>(
            ".setup button, .setup a, .setup p, .setup label",
          ),
        ]
          .filter((one) => one.scrollWidth > one.clientWidth + 1 && one.clientWidth > 0)
          .filter((one) => getComputedStyle(one).overflow !== "visible")
          .map((one) => one.textContent),
      );
      expect(cut, place).toEqual([]);
    }
    await page.context().close();
  }, 60_000);

  test("with reduced motion nothing moves by itself", async () => {
    const page = await open("#/setup", { reducedMotion: "reduce" });
    for (const hash of ["#/setup", "#/"]) {
      await page.goto(`${shop.gateway.url}/${hash}`);
      await page.waitForTimeout(500);
      const moving = await page.evaluate(
        () => document.getAnimations().filter((one) => one.playState === "running").length,
      );
      expect(moving, hash).toBe(0);
    }
    await page.context().close();
  }, 30_000);

  test("each field of Setup has a name for screen readers", async () => {
    const page = await open(`#/setup/station/${site}.slipway`);
    for (let step = 0; step < 6; step++) {
      await page.locator(".setup-steps button").nth(step).click();
      const nameless = await page.evaluate(() =>
        [...document.querySelectorAll<HTMLInputElement>("main input, main select, main button")]
          .filter((one) => {
            const labelled = (one.labels?.length ?? 0) > 0 || one.getAttribute("aria-label");
            return !labelled && one.textContent?.trim() === "";
          })
          .map((one) => one.outerHTML.slice(0, 100)),
      );
      expect(nameless).toEqual([]);
    }
    await page.context().close();
  }, 30_000);
});
