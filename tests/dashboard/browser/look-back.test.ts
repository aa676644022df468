import { join } from "node:path";
import type { LookBack } from "@leeward/shared-core/api/look-back.ts";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { getList } from "./gateway-process.ts";
import {
  artefacts,
  freshContext,
  keepPicture,
  looksOf,
  type Scheme,
  type Size,
  sideways,
  violations,
} from "./page-checks.ts";
import { shopInBrowser } from "./shop-in-browser.ts";

const shop = shopInBrowser();

async function open(hash: string, size: Size = "laptop", scheme: Scheme = "light"): Promise<Page> {
  const page = await (await freshContext(shop.browser, size, scheme)).newPage();
  await page.goto(`${shop.gateway.url}/${hash}`);
  await page.locator("[data-verdict]").waitFor();
  return page;
}

async function report(id: string, from: number, to: number): Promise<LookBack> {
  const response = await fetch(
    `${shop.gateway.url}/api/v1/stations/${id}/look-back?from=${from}&to=${to}`,
  );
  expect(response.status).toBe(200);
  return (await response.json()) as LookBack;
}

test("says what the record says, in words and with its interval", async () => {
  const { now } = await getList(shop.gateway.url);
  // Far enough back that no pack of it is still on its way.
  const to = Math.floor(now / 60) * 60 - 300;
  const from = to - 600;
  for (const id of ["boatyard.hull-bay", "boatyard.slipway", "boatyard.prop-shop"]) {
    const expected = await report(id, from, to);
    const page = await open(`#/look-back/${id}?from=${from}&to=${to}`);
    const sheet = page.locator("[data-verdict]");
    expect(await sheet.getAttribute("data-verdict")).toBe(expected.record.verdict);
    const text = (await page.locator("[data-field=verdict]").textContent()) ?? "";
    const { mean } = expected.record;
    if (mean) {
      const figures = [mean.lpm, mean.low, mean.high].map((lpm) => lpm.toFixed(1));
      expect(text).toContain(
        `On average ${figures[0]} L/min (95 %: ${figures[1]} to ${figures[2]})`,
      );
    }
    await page.locator(".look-chart canvas").first().waitFor();
    expect(await page.getByText("a wrong torch angle or distance").count()).toBe(1);
    await page.context().close();
  }
}, 120_000);

test("a span without data is never called good", async () => {
  const { now } = await getList(shop.gateway.url);
  const from = Math.floor(now) - 3 * 86_400;
  const page = await open(`#/look-back/boatyard.prop-shop?from=${from}&to=${from + 3600}`);
  const verdict = page.locator("[data-field=verdict]");
  await verdict.getByText("It cannot be told whether the gas flow was short.").waitFor();
  expect(await verdict.textContent()).toContain("nothing was recorded");
  await page.context().close();
}, 60_000);

test("picked by station and time; the address can be passed on", async () => {
  const page = await open("#/look-back/boatyard.hull-bay");
  await page.getByLabel("Station", { exact: true }).selectOption("boatyard.slipway");
  await page.getByText("Shielding gas at Slipway, keel seam").waitFor();
  await page.getByRole("button", { name: "Yesterday" }).click();
  await page.locator("[data-verdict=cannot-tell]").waitFor();
  const address = page.url();
  expect(address).toMatch(/#\/look-back\/boatyard\.slipway\?from=\d+&to=\d+$/);
  const other = await open(address.slice(address.indexOf("#")), "phone");
  await other.locator("[data-verdict=cannot-tell]").waitFor();
  expect(await other.locator("[data-field=span]").textContent()).toBe(
    await page.locator("[data-field=span]").textContent(),
  );
  // An empty day is no dead end: the nearest gas is one tap away.
  await page.locator("[data-field=nearest-gas] button").click();
  await page.locator("[data-field=nearest-gas]").waitFor({ state: "detached" });
  await page.waitForFunction((before) => location.href !== before, address);
  const [, from, to] = /from=(\d+)&to=(\d+)/.exec(page.url())!.map(Number);
  expect((await report("boatyard.slipway", from!, to!)).record.mean).not.toBeNull();
  await page.getByLabel("From", { exact: true }).fill("2030-01-01T00:00");
  await page.getByText("From must lie before to.").waitFor();
  await other.context().close();
  await page.context().close();
}, 90_000);

test("gas without a job is given to one, and taken back", async () => {
  const { now } = await getList(shop.gateway.url);
  const to = Math.floor(now / 60) * 60 - 120;
  const id = "boatyard.hull-bay";
  const from = to - 1500;
  const page = await open(`#/look-back/${id}?from=${from}&to=${to}`, "phone");
  const before = await report(id, from, to);
  const card = page.locator(".look-claim");
  const spells = card.locator("[data-spell]");
  await card.getByText("One by one").click();
  await spells.first().waitFor();
  const count = before.record.spells.filter(
    (spell) => !before.jobs.some((job) => job.job !== null && job.from <= spell.from),
  ).length;
  expect(await spells.count()).toBe(Math.min(10, count));
  await card.getByRole("button", { name: /^Give (all|it)/ }).click();
  const dialog = page.getByRole("dialog");
  const save = dialog.getByRole("button", { name: "Give it" });
  expect(await save.isDisabled()).toBe(true);
  await dialog.getByLabel("Job").fill("keel 7");
  await dialog.getByLabel("Said by").fill("Grace");
  expect(await violations(page)).toEqual([]);
  await save.click();
  await card.locator('[data-claimed="keel 7"]').first().waitFor();
  expect(await spells.count()).toBe(0);
  expect(await violations(page)).toEqual([]);
  await keepPicture(page, join(artefacts, "look-back-claimed.png"), true);
  const after = await report(id, from, to);
  // Whose gas it was, and who said so afterwards, is on the sheet, in print too.
  const whose = page.locator('[data-field=whose-gas] [data-job="keel 7"]').first();
  expect(await whose.textContent()).toMatch(
    /^Job keel 7, \d\d:\d\d to \d\d:\d\d, claimed afterwards by Grace, \d+ \w+ \d{4}, \d\d:\d\d$/,
  );
  await page.emulateMedia({ media: "print" });
  expect(await whose.isVisible()).toBe(true);
  await page.emulateMedia({ media: "screen" });
  // A job's own sheet: from its first second to its last, and none of its neighbours.
  const job = after.jobs.find((one) => one.claimedBy === "Grace");
  await page.getByLabel("A job", { exact: true }).selectOption(String(job?.from));
  await expect.poll(() => page.url()).toContain(`?from=${job?.from}&to=${job?.to}`);
  await page.goto(`${shop.gateway.url}/#/look-back/${id}?from=${from}&to=${to}`);
  await card.locator('[data-claimed="keel 7"]').first().waitFor();
  expect(after.jobs.filter((job) => job.claimedBy === "Grace").length).toBeGreaterThan(0);
  const rows = await fetch(
    `${shop.gateway.url}/api/v1/sites/boatyard/ledger?from=${from}&to=${to}&by=job`,
  );
  const ledger = (await rows.json()) as {
    rows: { job: string | null; litres: { mean: number } }[];
  };
  const mine = ledger.rows.filter((row) => row.job === "keel 7");
  expect(mine.reduce((sum, row) => sum + row.litres.mean, 0)).toBeGreaterThan(0);
  for (let left = await card.locator("[data-claimed]").count(); left > 0; left--) {
    await card
      .getByRole("button", { name: /^Take back/ })
      .first()
      .click();
    await expect.poll(() => card.locator("[data-claimed]").count()).toBe(left - 1);
  }
  await expect.poll(() => spells.count()).toBe(Math.min(10, count));
  await page.context().close();
}, 60_000);

test("the chart takes on new colours when the device's scheme changes", async () => {
  const page = await open("#/look-back/boatyard.hull-bay", "laptop", "light");
  await page.locator(".look-chart canvas").first().waitFor();
  const ink = () =>
    page.evaluate(() => {
      const hex = getComputedStyle(document.documentElement).getPropertyValue("--ink").trim();
      const wanted = [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16));
      const canvas = document.querySelector<HTMLCanvasElement>(".look-chart canvas")!;
      const { data } = canvas.getContext("2d")!.getImageData(0, 0, canvas.width, canvas.height);
      for (let k = 0; k < data.length; k += 4) {
        // The interval is painted over the line in the same ink, and rounded.
        const near = wanted.every((part, at) => Math.abs((data[k + at] ?? 0) - part) <= 2);
        if (data[k + 3] === 255 && near) return hex;
      }
      return "not painted";
    });
  await expect.poll(ink).toMatch(/^#/);
  const light = await ink();
  await page.emulateMedia({ colorScheme: "dark" });
  await expect.poll(ink).toMatch(/^#/);
  expect(await ink()).not.toBe(light);
  await page.context().close();
}, 60_000);

test("prints on one sheet, light on a dark screen too", async () => {
  const page = await open("#/look-back/boatyard.hull-bay", "laptop", "dark");
  await page.locator(".look-chart canvas").first().waitFor();
  const pdf = await page.pdf({ path: join(artefacts, "look-back.pdf"), format: "A4" });
  const pages = pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g) ?? [];
  expect(pages).toHaveLength(1);
  await page.context().close();
}, 60_000);

test.each(looksOf(0))(
  "accessible and within its window: $size, $scheme",
  { tags: ["looks"], timeout: 60_000 },
  async ({ size, scheme }) => {
    const page = await open("#/look-back/boatyard.hull-bay", size, scheme);
    await page.locator(".look-chart canvas").first().waitFor();
    await keepPicture(page, join(artefacts, `look-back-${size}-${scheme}.png`), true);
    expect(await violations(page)).toEqual([]);
    expect(await sideways(page)).toBeLessThanOrEqual(0);
    await page.context().close();
  },
);
