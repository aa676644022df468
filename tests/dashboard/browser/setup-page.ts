import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { BrowserContextOptions, Page } from "playwright-core";
import { sizes } from "./page-checks.ts";
import type { shopInBrowser } from "./shop-in-browser.ts";
import { lentWindow } from "./windows.ts";

type Shop = ReturnType<typeof shopInBrowser>;

/** Opens a place of Setup in a browser window of its own. */
export async function openSetup(
  shop: Shop,
  hash: string,
  options: BrowserContextOptions = {},
): Promise<Page> {
  const context = await lentWindow(shop.browser, {
    viewport: sizes.laptop,
    locale: "en-GB",
    reducedMotion: "reduce",
    serviceWorkers: "block",
    ...options,
  });
  const page = await context.newPage();
  await page.goto(`${shop.gateway.url}/${hash}`);
  await page.waitForSelector(".setup h1");
  return page;
}

/** One station as the API gives it. */
export async function getView(shop: Shop, id: string): Promise<StationView> {
  return (await (await fetch(`${shop.gateway.url}/api/v1/stations/${id}`)).json()) as StationView;
}
