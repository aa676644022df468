import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { getList, sleep, startGateway } from "./gateway-process.ts";
import {
  artefacts,
  freshContext,
  keepPicture,
  looksOf,
  sideways,
  sizes,
  violations,
} from "./page-checks.ts";
import { shopInBrowser } from "./shop-in-browser.ts";

// On the demo's fast clock, so that the ten minutes take half of one; faster than that a busy machine
// falls behind, and packs that come late end the test. The quay's cylinder valve is closed for hours.
const id = "boatyard.quay";

const shop = shopInBrowser(() => startGateway(240_000, undefined, ["--demo-speed", "20"]));

async function quay(): Promise<StationView> {
  const found = (await getList(shop.gateway.url)).stations.find((view) => view.id === id);
  if (!found) throw new Error(`the virtual shop has no ${id}`);
  return found;
}

async function start(page: Page, button: string): Promise<void> {
  await page.getByRole("button", { name: button }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByText("Close the cylinder valve.").waitFor();
  // A dash while the newest pack is late, which on the demo's fast clock is soon: until one is in.
  await expect
    .poll(() => dialog.locator("[data-field=leak-line]").textContent(), { timeout: 20_000 })
    .toMatch(/^\d\.\d\d bar$/);
  await dialog.getByRole("radio", { name: "left open" }).check();
  await dialog.getByText("Leave the regulator as it is.").waitFor();
  await dialog.getByRole("radio", { name: "shut too" }).check();
  await dialog.getByText("Shut the regulator too").waitFor();
  await keepPicture(page, `${artefacts}leak-test-dialog.png`);
  await dialog.getByRole("button", { name: "Start the test" }).click();
  await dialog.waitFor({ state: "detached" });
}

test("a leak test is started, given up, started again, watched, and tells its result with its interval", {
  tags: ["looks"],
  timeout: 180_000,
}, async () => {
  const until = Date.now() + 60_000;
  while ((await quay()).estimate?.mode !== "valve-closed" && Date.now() < until) await sleep(300);
  const context = await freshContext(shop.browser, "phone", "light");
  const page = await context.newPage();
  await page.goto(`${shop.gateway.url}/#/station/${id}`);
  await page.waitForSelector("main.station[data-fresh=live]");

  await start(page, "Leak test");
  await page.locator("[data-phase=settling], [data-phase=running]").waitFor();
  // It stands before all that may ask to let the gas off, and no second one can be begun beside it.
  const first = page.locator("main > *").first();
  expect(await first.getAttribute("data-phase")).toMatch(/settling|running/);
  expect(await first.textContent()).toContain("Leave the gas in regulator and hose");
  expect(await page.getByRole("button", { name: "Leak test" }).count()).toBe(0);
  await keepPicture(page, `${artefacts}leak-test-running-phone.png`);
  expect(await page.locator("[data-field=leak-course]").textContent()).toContain("touch nothing");
  expect(await violations(page)).toEqual([]);
  await page.getByRole("button", { name: "Give up the test" }).click();
  const given = page.locator("[data-phase=void] [data-field=leak-verdict]");
  await given.waitFor();
  expect(await given.textContent()).toBe(
    "It was given up. The test says nothing about leaks, good or bad.",
  );

  await start(page, "Test again");
  const card = page.locator("[data-phase=done]");
  await card.waitFor({ timeout: 60_000 });
  // Whoever comes back after ten minutes reads the verdict without scrolling.
  await page.evaluate(() => scrollTo(0, 0));
  const verdict = await card.locator("[data-field=leak-verdict]").boundingBox();
  expect((verdict?.y ?? 9999) + (verdict?.height ?? 0)).toBeLessThan(sizes.phone.height);
  // What it hangs on is not to be read past, and nothing found is nothing to test again.
  const hangs = card.locator("[data-caution=valve-taken-as-closed]");
  if ((await hangs.count()) > 0) expect(await hangs.getAttribute("class")).toBe("caution");
  expect(await card.getByRole("button", { name: "Test again" }).count()).toBe(0);
  const told = (await quay()).estimate?.leak.test;
  expect(told?.phase).toBe("done");
  expect(told?.side).toBe("none");
  expect(await card.locator("[data-field=leak-verdict]").textContent()).toBe(
    "No leak was found, on either side of the regulator.",
  );
  for (const side of ["cylinder", "line"] as const) {
    const loss = told?.[side];
    if (!loss) throw new Error(`${side} was not judged`);
    const text = (await card.locator(`[data-side=${side}] dd`).textContent()) ?? "";
    const figures = /^([\d.]+) cm³\/min \(95 %: ([\d.]+) to ([\d.]+)\)A leak of more than ([\d.]+)/
      .exec(text)
      ?.slice(1)
      .map(Number);
    const wanted = [loss.cm3PerMin, loss.low, loss.high, loss.smallest];
    for (const [index, value] of wanted.entries()) {
      // Two figures are shown.
      expect(Math.abs((figures?.[index] ?? Number.NaN) - value), text).toBeLessThanOrEqual(
        0.05 * value + 5e-4,
      );
    }
  }
  expect((await card.locator("[data-caution]").count()) > 0).toBe(
    (told?.cautions?.length ?? 0) > 0,
  );

  for (const { size, scheme } of looksOf(1)) {
    await page.setViewportSize(sizes[size]);
    await page.emulateMedia({ colorScheme: scheme });
    expect(await sideways(page)).toBe(0);
    expect(await violations(page)).toEqual([]);
    await keepPicture(page, `${artefacts}leak-test-${size}-${scheme}.png`, true);
  }
  await context.close();
});
