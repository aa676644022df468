import { mkdir } from "node:fs/promises";
import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import {
  examplePack,
  exampleStation,
  HandClock,
  samplesTopic,
  startTestGateway,
} from "../../gateway/support.ts";
import { getList, startGateway } from "./gateway-process.ts";
import { artefacts, freshContext, keepPicture } from "./page-checks.ts";
import { shopInBrowser } from "./shop-in-browser.ts";

// A gateway that stood still for an hour, with gas on when it stopped: what it restores is no news.

const HOUR_S = 3600;
const pictures = `${artefacts}after-restart/`;

const shop = shopInBrowser(() => startGateway(240_000, flowUntilAnHourAgo, ["--no-virtual"]));

async function flowUntilAnHourAgo(folder: string): Promise<void> {
  await mkdir(pictures, { recursive: true });
  const startS = Math.floor(Date.now() / 1000) - HOUR_S;
  const { gateway, clock, link, stop } = await startTestGateway({
    folder,
    clock: new HandClock(startS),
  });
  await gateway.service.save(exampleStation(), null);
  for (let seq = 1; seq <= 20; seq++) {
    clock.goTo(startS + 2 * seq);
    await link.send(samplesTopic, examplePack({ endS: startS + 2 * seq, seq }));
  }
  await stop();
}

const firstOf = async (): Promise<StationView> => {
  const [view] = (await getList(shop.gateway.url)).stations;
  if (!view) throw new Error("no station");
  return view;
};

async function expectOld(page: Page): Promise<void> {
  await page.locator("[data-fresh=old]").first().waitFor();
  expect(await page.locator("[data-fresh=live]").count()).toBe(0);
  expect(await page.locator(".slot-diamond:not(.slot-diamond-hollow)").count()).toBe(0);
  expect(await page.locator("[data-field=sentence]").first().textContent()).not.toMatch(
    /^Gas flow is right/,
  );
  const age = await page.locator("[data-field=age]").first().textContent();
  expect(Number(/^old: (\d+) min ago$/.exec(age ?? "")?.[1]), `${age}`).toBeGreaterThanOrEqual(59);
}

describe("an hour after its last message, before the first new one,", () => {
  test("the API says that what it lists is old, and how old", async () => {
    const { estimate, old, ageS } = await firstOf();
    // It stays what it was; only `old` says that it is no news.
    expect(estimate?.mode).not.toBe("idle");
    expect(old).toBe(true);
    expect(ageS).toBeGreaterThan(HOUR_S - 60);
  });

  test.each([
    ["floor", "#/"],
    ["wall", "#/wall"],
    ["station", "#/station/north.bay-3"],
  ])(
    "%s shows nothing as live",
    async (name, hash) => {
      const context = await freshContext(shop.browser, "laptop", "light");
      const page = await context.newPage();
      await page.goto(`${shop.gateway.url}/${hash}`);
      await expectOld(page);
      await keepPicture(page, `${pictures}${name}.png`);
      await context.close();
    },
    60_000,
  );

  test("a float that is told then is held against nothing", async () => {
    const context = await freshContext(shop.browser, "laptop", "light");
    const page = await context.newPage();
    await page.goto(`${shop.gateway.url}/#/station/north.bay-3`);
    await expectOld(page);
    expect(await page.locator("[data-field=job]").count()).toBe(0);
    await page.getByRole("button", { name: /float/i }).first().click();
    await page.locator("[data-field=reading-old]").waitFor();
    expect(await page.getByText("By the pressures it should show").count()).toBe(0);
    await context.close();
  }, 60_000);
});
