import { mkdir } from "node:fs/promises";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll } from "vitest";
import { type RunningGateway, startGateway } from "./gateway-process.ts";
import { artefacts, launchBrowser } from "./page-checks.ts";

/** A gateway and a browser, for all tests of a file: there from its first test to its last. */
export function shopInBrowser(start: () => Promise<RunningGateway> = startGateway): {
  readonly gateway: RunningGateway;
  readonly browser: Browser;
} {
  const shop: { gateway?: RunningGateway; browser?: Browser } = {};
  beforeAll(async () => {
    await mkdir(artefacts, { recursive: true });
    shop.gateway = await start();
    shop.browser = await launchBrowser();
  }, 300_000);
  afterAll(async () => {
    await shop.browser?.close();
    await shop.gateway?.stop();
  }, 30_000);
  return shop as { gateway: RunningGateway; browser: Browser };
}
