import { expect, test } from "vitest";
import { startYoung } from "./gateway-process.ts";
import { freshContext } from "./page-checks.ts";
import { shopInBrowser } from "./shop-in-browser.ts";

const shop = shopInBrowser(() => startYoung(["--demo-speed", "20"]));

test("beside a demo with a faster clock, Setup says before anything is typed that no own station can be saved", async () => {
  const context = await freshContext(shop.browser, "phone", "light");
  const page = await context.newPage();
  for (const path of ["#/setup", "#/setup/new"]) {
    await page.goto(`${shop.gateway.url}/${path}`);
    const note = page.locator("[data-field=demo-fast]");
    await note.waitFor();
    expect(await note.textContent()).toContain("clock runs 20×: no station of your own");
    expect(await page.locator("[data-field=demo-ends]").count()).toBe(0);
  }
  await context.close();
}, 60_000);
