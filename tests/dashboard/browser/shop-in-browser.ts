import { mkdir } from "node:fs/promises";
import { type Browser, chromium } from "playwright-core";
import { afterAll, beforeAll, inject } from "vitest";
import { type RunningGateway, startGateway } from "./gateway-process.ts";
import { artefacts } from "./page-checks.ts";

async function borrowed(what: "browser" | "shop" | "year"): Promise<string> {
  const answer = await fetch(`${inject("lender")}/${what}`);
  const text = await answer.text();
  if (!answer.ok) throw new Error(text);
  return text;
}

/** A shop that several files look at together: none of them may change anything in it. */
async function lentShop(which: "shop" | "year"): Promise<RunningGateway> {
  const [url = "", brokerUrl = ""] = (await borrowed(which)).split(" ");
  return { url, brokerUrl, stop: async () => {} };
}

export const sharedShop = () => lentShop("shop");

/** The same with a station more, `yearStation`, that has welded for a year. */
export const sharedYear = () => lentShop("year");

/** A gateway and a browser, for all tests of a file: there from its first test to its last. */
export function shopInBrowser(start: () => Promise<RunningGateway> = startGateway): {
  readonly gateway: RunningGateway;
  readonly browser: Browser;
} {
  const shop: { gateway?: RunningGateway; browser?: Browser } = {};
  beforeAll(async () => {
    await mkdir(artefacts, { recursive: true });
    shop.gateway = await start();
    shop.browser = await chromium.connect(await borrowed("browser"));
  }, 300_000);
  afterAll(async () => {
    // Its windows close with the connection; the browser itself is for all files.
    await shop.browser?.close();
    await shop.gateway?.stop();
  }, 30_000);
  return shop as { gateway: RunningGateway; browser: Browser };
}
