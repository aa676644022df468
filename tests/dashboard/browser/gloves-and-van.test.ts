import type { Locator, Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { startYoung } from "./gateway-process.ts";
import { artefacts, freshContext, keepPicture, sideways, violations } from "./page-checks.ts";
import { shopInBrowser } from "./shop-in-browser.ts";

const shop = shopInBrowser(startYoung);
const station = "boatyard.hull-bay";
/** A gloved fingertip hits 48 px (common practice, no source). */
const GLOVE_PX = 48;
/** The largest size that WCAG 2.2 asks of a target (2.5.5); its least is 24 (2.5.8). */
const FINGER_PX = 44;

async function open(size: "phone" | "laptop", hash: string, locale = "en-GB"): Promise<Page> {
  const context = await freshContext(shop.browser, size, "light", false, locale);
  const page = await context.newPage();
  await page.goto(`${shop.gateway.url}/#/${hash}`);
  await page.locator("main[id=content]").waitFor();
  return page;
}

const heightOf = async (part: Locator) => (await part.boundingBox())?.height ?? 0;

describe("the welder in gloves, at a tablet", () => {
  test.each(["en-GB", "de-DE", "es-MX"])(
    "the head of Station is one line, whatever the age says, and its ways out are large: %s",
    async (locale) => {
      const page = await open("laptop", `station/${station}`, locale);
      await page.locator("main[data-station]").waitFor();
      const header = page.locator(".header");
      for (const seconds of ["9", "10", "99"]) {
        await page.locator(".station-age").evaluate((age, s) => {
          age.textContent = (age.textContent ?? "").replace(/\d+/, s);
        }, seconds);
        expect(await heightOf(header)).toBeLessThan(90);
      }
      expect(await heightOf(page.locator(".back"))).toBeGreaterThanOrEqual(GLOVE_PX);
      expect(await heightOf(header.locator(".link-button"))).toBeGreaterThanOrEqual(GLOVE_PX);
      await page.context().close();
    },
    60_000,
  );

  test("what is welded is two taps away, in a window that needs no scrolling", async () => {
    const page = await open("laptop", `station/${station}`);
    await page.getByRole("button", { name: "What I weld now" }).click();
    const dialog = page.getByRole("dialog");
    const current = dialog.locator(".job-list .button").first();
    await current.waitFor();
    const cut = await dialog.evaluate((one) => one.scrollHeight - one.clientHeight);
    expect(cut).toBeLessThanOrEqual(0);
    // Nothing is offered to end that was not begun.
    expect(await dialog.getByRole("button", { name: "Job done" }).count()).toBe(0);
    await page.keyboard.press("Escape");
    await page.getByRole("button", { name: "Purge", exact: true }).click();
    await dialog.getByRole("button", { name: "Start the purge" }).waitFor();
    expect(await dialog.getByRole("button", { name: "End the purge" }).count()).toBe(0);
    await page.context().close();
  }, 60_000);

  test("a change of cylinder says what to do with another gas, and a name is typed once", async () => {
    const page = await open("laptop", `station/${station}`);
    const dialog = page.getByRole("dialog");
    const change = page.getByRole("button", { name: "Cylinder changed" });
    await change.click();
    const other = dialog.getByRole("link", { name: /Another gas or size/ });
    expect(await other.getAttribute("href")).toBe(`#/setup/station/${station}`);
    expect(await violations(page)).toEqual([]);
    await keepPicture(page, `${artefacts}gloves-swap.png`);
    await dialog.getByRole("button", { name: "Same kind" }).click();
    await dialog.getByLabel("Your name").fill("Ines");
    await dialog.getByRole("button", { name: "Take the change back" }).click();
    await dialog.getByText("Taken back").waitFor();
    await page.keyboard.press("Escape");

    await change.click();
    await dialog.getByRole("button", { name: "Same kind" }).click();
    const known = dialog.getByRole("button", { name: "Ines" });
    expect(await heightOf(known)).toBeGreaterThanOrEqual(GLOVE_PX);
    await known.click();
    await dialog.getByRole("button", { name: "Take the change back" }).click();
    await dialog.getByText("Taken back").waitFor();
    await page.context().close();
  }, 90_000);
});

describe("the owner with a phone", () => {
  test.each(["en-GB", "de-DE", "es-MX"])(
    "the Ledger shows every figure without a swipe, the sum first: %s",
    async (locale) => {
      const page = await open("phone", "ledger", locale);
      const table = page.locator(".ledger-card table");
      await table.waitFor({ timeout: 30_000 });
      const beyond = await table.locator("td, th").evaluateAll(
        (cells) =>
          cells.filter((cell) => {
            const { left, right, width } = cell.getBoundingClientRect();
            return !cell.closest("thead") && width > 0 && (left < 0 || right > innerWidth);
          }).length,
      );
      expect(beyond).toBe(0);
      expect(await sideways(page)).toBe(0);
      const top = async (part: string) => (await table.locator(part).boundingBox())?.y ?? 0;
      expect(await top("tfoot")).toBeLessThan(await top("tbody"));
      expect(await violations(page)).toEqual([]);
      await keepPicture(page, `${artefacts}van-ledger-${locale}.png`, true);
      await page.context().close();
    },
    90_000,
  );

  test.each([
    ["setup", ".setup-row h3 a, .setup-pair h2 a"],
    ["setup/shop", ".setup-back a"],
    ["rack", ".rack-card h3 a"],
    [`look-back/${station}`, ".time-bar-names button, .look-claim summary"],
  ])(
    "what is tapped on %s is as large as a finger",
    async (hash, targets) => {
      const page = await open("phone", hash);
      const all = page.locator(targets);
      await all.first().waitFor({ timeout: 30_000 });
      for (const one of await all.all())
        expect(await heightOf(one)).toBeGreaterThanOrEqual(FINGER_PX);
      await page.context().close();
    },
    60_000,
  );

  test("cylinders that hang side by side have their buttons in line", async () => {
    const page = await open("laptop", "rack");
    const cards = page.locator("[data-fitted]");
    await cards.first().locator(".button").waitFor();
    const rows = await cards.evaluateAll((list) => {
      const feet = new Map<number, Set<number>>();
      for (const card of list) {
        const top = Math.round(card.getBoundingClientRect().top);
        const foot = card.querySelector(".rack-buttons .button")?.getBoundingClientRect().bottom;
        feet.set(top, (feet.get(top) ?? new Set()).add(Math.round(foot ?? 0)));
      }
      return [...feet.values()].map((each) => each.size);
    });
    expect(rows.length).toBeGreaterThan(1);
    expect(rows.every((size) => size === 1)).toBe(true);
    await page.context().close();
  }, 60_000);

  test("what is to be ordered stands on the Rack's first screen, by days", async () => {
    const page = await open("phone", "rack");
    const order = page.locator("[data-field=order]");
    await order.waitFor();
    const dates = await order.locator("tbody td:nth-child(4)").allTextContents();
    expect(dates.length).toBeGreaterThan(0);
    // An order by the minute would claim what no habit can tell.
    for (const date of dates) expect(date).not.toMatch(/\d:\d/);
    const urgent = dates.some((date) => /^(now|today)$/.test(date.trim()));
    const line = page.locator("[data-field=order-line]");
    if (urgent) expect((await line.boundingBox())?.y).toBeLessThan(400);
    expect(await violations(page)).toEqual([]);
    await page.context().close();
  }, 60_000);
});
