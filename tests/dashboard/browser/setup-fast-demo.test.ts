import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type RunningGateway, startGateway } from "./gateway-process.ts";
import { freshContext, launchBrowser } from "./page-checks.ts";

let gateway: RunningGateway;
let browser: Browser;

beforeAll(async () => {
  [gateway, browser] = await Promise.all([
    startGateway(240_000, undefined, ["--demo-speed", "20"]),
    launchBrowser(),
  ]);
}, 300_000);

afterAll(async () => {
  await browser?.close();
  await gateway?.stop();
}, 30_000);

test("beside a demo with a faster clock, Setup says before anything is typed that no own station can be saved", async () => {
  const context = await freshContext(browser, "phone", "light");
  const page = await context.newPage();
  for (const path of ["#/setup", "#/setup/new"]) {
    await page.goto(`${gateway.url}/${path}`);
    const note = page.locator("[data-field=demo-fast]");
    await note.waitFor();
    expect(await note.textContent()).toContain("clock runs 20×: no station of your own");
    expect(await page.locator("[data-field=demo-ends]").count()).toBe(0);
  }
  await context.close();
}, 60_000);
