import type { StationDocument, SupplyDocument } from "@leeward/shared-core/documents/station.ts";
import type { Locator } from "playwright-core";
import { expect, test } from "vitest";
import { getList, startYoung } from "./gateway-process.ts";
import { shopInBrowser } from "./shop-in-browser.ts";

const shop = shopInBrowser(startYoung);

async function put(path: string, document: object): Promise<void> {
  const answer = await fetch(`${shop.gateway.url}/api/v1/${path}`, {
    method: "PUT",
    headers: { "content-type": "application/json", "if-none-match": "*" },
    body: JSON.stringify(document),
  });
  expect(answer.status, await answer.text()).toBeLessThan(300);
}

test("at a shared supply the change tells the tare of its new cylinder, at any of its stations, and again after one was left out", async () => {
  const list = await getList(shop.gateway.url);
  const site = list.site.own ?? "";
  const model = list.stations.find(({ description }) => description.cylinder)?.description;
  const supply = {
    ...{ schema: 1, supply: "ring-1", site, node: null, kind: "cylinder", reserve: null },
    cylinder: {
      ...{ gas: "C1-C", composition: { CO2: 1 }, waterVolumeL: 40, count: 1 },
      ...{ filledKg: 30, tareKg: 42.5 },
    },
    // From memory: any two points that a node takes.
    sensors: { scale: { lowReads: 1000, lowIsKg: 0, highReads: 21_000, highIsKg: 200 } },
    regulator: model?.regulator,
    drops: ["east", "west"],
  };
  await put(`supplies/${site}.ring-1`, supply);
  const { cylinder: _, virtual: __, node: ___, sensors, ...rest } = model as StationDocument;
  for (const station of ["east", "west"]) {
    await put(`stations/${site}.${station}`, {
      ...{ ...rest, site, station, name: station, node: null, supply: "ring-1" },
      sensors: { line: sensors?.line },
    });
  }
  const described = async () => {
    const answer = await fetch(`${shop.gateway.url}/api/v1/supplies/${site}.ring-1`);
    return ((await answer.json()) as { description: SupplyDocument }).description.cylinder;
  };

  const context = await shop.browser.newContext({
    viewport: { width: 390, height: 844 },
    locale: "en-GB",
  });
  const page = await context.newPage();
  const change = async (station: string, tare: string) => {
    await page.goto(`${shop.gateway.url}/#/station/${site}.${station}`);
    await page.getByRole("button", { name: "Cylinder changed" }).click();
    const dialog = page.getByRole("dialog");
    await dialog.getByLabel("Tare stamped on this one, kg").fill(tare);
    return dialog;
  };
  const taken = async (dialog: Locator) => {
    await dialog.getByText("Noted.").waitFor();
    await dialog.getByRole("button", { name: "Close" }).click();
  };
  const east = await change("east", "44.2");
  expect(await east.locator("[data-field=shared]").textContent()).toBe(
    "It belongs to ring-1, which also feeds west: told here, the change counts there too.",
  );
  // Liquid: its pressure says nothing, so nothing is said of it.
  expect(await east.getByText("its pressure tells how full it is").count()).toBe(0);
  expect(await east.getByRole("link").getAttribute("href")).toBe(`#/setup/supply/${site}.ring-1`);
  await east.getByRole("button", { name: "Same kind, full" }).click();
  await taken(east);
  expect(await described()).toMatchObject({ filledKg: 30, tareKg: 44.2 });

  const none = await change("west", "");
  await none.getByRole("button", { name: "Same kind, full" }).click();
  await taken(none);
  expect(await described()).not.toHaveProperty("tareKg");

  // The scale still stands there: the next change asks again.
  const again = await change("west", "43");
  await again.getByRole("button", { name: "Same kind, full" }).click();
  await taken(again);
  expect(await described()).toMatchObject({ tareKg: 43 });
  await context.close();
}, 90_000);
