import type { BrowserContextOptions, Page } from "playwright-core";
import { expect, test } from "vitest";
import { sharedShop, shopInBrowser } from "./shop-in-browser.ts";
import { lentWindow } from "./windows.ts";

const shop = shopInBrowser(sharedShop);

async function floor(options: BrowserContextOptions): Promise<Page> {
  const context = await lentWindow(shop.browser, {
    locale: "en-GB",
    reducedMotion: "reduce",
    serviceWorkers: "block",
    ...options,
  });
  const page = await context.newPage();
  await page.goto(`${shop.gateway.url}/#/`);
  await page.waitForSelector(".tile[data-t]");
  return page;
}

const sideways = (page: Page) =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

test.each<[string, BrowserContextOptions, string]>([
  ["text of 200 %", { viewport: { width: 640, height: 800 } }, "200%"],
  // Zooming a window of 1280 px to 200 % leaves 640 px of twice the size.
  ["a page zoomed to 200 %", { viewport: { width: 640, height: 400 }, deviceScaleFactor: 2 }, ""],
])(
  "the Floor loses nothing at %s",
  async (_name, options, fontSize) => {
    const page = await floor(options);
    if (fontSize !== "") {
      await page.addStyleTag({ content: `html { font-size: ${fontSize} !important; }` });
    }
    expect(await sideways(page)).toBe(0);
    const cut = await page.evaluate(() =>
      [...document.querySelectorAll<HTMLElement>(".tile *, .header *")]
        .filter((one) => one.clientWidth > 0 && getComputedStyle(one).overflowX !== "visible")
        .filter((one) => one.scrollWidth > one.clientWidth + 1 && !one.closest(".visually-hidden"))
        .map((one) => `${one.className}: ${one.textContent?.slice(0, 60)}`),
    );
    expect(cut).toEqual([]);
    await page.context().close();
  },
  60_000,
);

test("by keyboard alone: skip to the content, each tile in turn, and Setup", async () => {
  const page = await floor({ viewport: { width: 1280, height: 800 } });
  await page.keyboard.press("Tab");
  const focused = () => page.evaluate(() => document.activeElement?.textContent?.trim() ?? "");
  expect(await focused()).toBe("Skip to the content");
  await page.keyboard.press("Enter");
  expect(await page.evaluate(() => document.activeElement?.id)).toBe("content");
  const names = await page.locator(".tile-name a").allTextContents();
  const visited: string[] = [];
  for (let turn = 0; turn < 40 && visited.length < names.length; turn++) {
    await page.keyboard.press("Tab");
    const here = await page.evaluate(() => {
      const link = document.activeElement;
      if (!link?.matches(".tile-name a")) return null;
      // The whole tile opens the station, and so the whole tile shows the focus.
      const { outlineStyle, outlineWidth } = getComputedStyle(link.closest(".tile") ?? link);
      return { text: link.textContent ?? "", ring: `${outlineStyle} ${outlineWidth}` };
    });
    if (!here) continue;
    visited.push(here.text);
    expect(here.ring).toBe("solid 3px");
  }
  expect(visited.sort()).toEqual([...names].sort());
  // By ear each tile says whose it is, as the list of places of a screen reader has it.
  const articles = page.getByRole("article");
  expect(await articles.count()).toBe(names.length);
  for (const name of names) {
    expect(await page.getByRole("article", { name, exact: true }).count()).toBe(1);
  }
  await page.getByRole("link", { name: "Setup" }).focus();
  await page.keyboard.press("Enter");
  await page.waitForSelector(".setup h1");
  await page.context().close();
}, 60_000);

test("for screen readers each tile is named, says its flow with its unit, and what to do", async () => {
  const page = await floor({ viewport: { width: 1280, height: 800 } });
  const tree = await page.locator("main").ariaSnapshot();
  for (const name of await page.locator(".tile-name a").allTextContents()) {
    expect(tree).toContain(`link "${name.trim()}"`);
  }
  const nameless = await page.evaluate(() =>
    [...document.querySelectorAll<SVGElement>("main svg")]
      .filter(
        (one) =>
          one.getAttribute("aria-hidden") !== "true" &&
          !one.getAttribute("aria-label") &&
          !one.querySelector("title") &&
          !one.closest("[aria-hidden=true], [role=img][aria-label]"),
      )
      .map((one) => one.outerHTML.slice(0, 120)),
  );
  expect(nameless).toEqual([]);
  await page.context().close();
}, 60_000);
