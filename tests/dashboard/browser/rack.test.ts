import { join } from "node:path";
import type { Rack } from "@leeward/shared-core/api/rack.ts";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { getList, startYoung } from "./gateway-process.ts";
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

const shop = shopInBrowser(startYoung);

async function open(size: Size = "laptop", scheme: Scheme = "light"): Promise<Page> {
  const page = await (await freshContext(shop.browser, size, scheme)).newPage();
  await page.goto(`${shop.gateway.url}/#/rack`);
  await page.locator("[data-fitted]").first().waitFor();
  await page.locator("[data-move]").first().waitFor();
  return page;
}

async function rack(): Promise<Rack> {
  return (await (await fetch(`${shop.gateway.url}/api/v1/sites/boatyard/rack`)).json()) as Rack;
}

test.each(looksOf(1))(
  "accessible and within its window: $size, $scheme",
  { tags: ["looks"], timeout: 60_000 },
  async ({ size, scheme }) => {
    const page = await open(size, scheme);
    await keepPicture(page, join(artefacts, `rack-${size}-${scheme}.png`), true);
    expect(await violations(page)).toEqual([]);
    expect(await sideways(page)).toBeLessThanOrEqual(0);
    await page.context().close();
  },
);

test("a cylinder arrives, is fitted and taken back; the description follows", async () => {
  const page = await open();
  await page.getByLabel("Like the cylinder of").selectOption("boatyard.prop-shop");
  await page.getByLabel("Serial number").fill("BY-9001");
  await page.getByLabel("Lot or batch on the label").fill("L-new");
  await page.getByLabel("Water volume").fill("40");
  await page.getByRole("button", { name: "Into the rack" }).click();
  await page.locator("[data-place=store]", { hasText: "BY-9001" }).waitFor();

  const card = page.locator('[data-fitted="boatyard.prop-shop"]');
  await card.getByRole("button", { name: "Cylinder changed" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("BY-9001").check();
  await dialog.getByLabel("Your name").fill("Ada");
  expect(await violations(page)).toEqual([]);
  await dialog.getByRole("button", { name: "It hangs there" }).click();
  await card.getByText("BY-9001, lot L-new").waitFor();
  const volume = async () =>
    (await getList(shop.gateway.url)).stations.find((view) => view.id === "boatyard.prop-shop")
      ?.description.cylinder?.waterVolumeL;
  expect(await volume()).toBe(40);

  await card.getByRole("button", { name: "Take it back" }).click();
  await dialog.getByRole("button", { name: "Take it back" }).click();
  await page.locator("[data-place=store]", { hasText: "BY-9001" }).waitFor();
  expect(await volume()).not.toBe(40);
  expect((await rack()).moves[0]).toMatchObject({ kind: "undone", serial: "BY-9001", by: "Ada" });
  await page.context().close();
}, 90_000);

test("another gas than described is named before it is fitted", async () => {
  const page = await open("phone");
  const other = (await rack()).cylinders.find(
    (one) => one.place === "store" && one.record.gas !== "I3-ArHe-25",
  );
  const card = page.locator('[data-fitted="boatyard.prop-shop"]');
  await card.getByRole("button", { name: "Cylinder changed" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel(other?.record.serial ?? "").check();
  await dialog.getByText("The label decides").waitFor();
  await page.context().close();
}, 60_000);
