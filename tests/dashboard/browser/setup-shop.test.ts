import { connectAsync, type MqttClient } from "mqtt";
import type { BrowserContextOptions } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { getList, startYoung } from "./gateway-process.ts";
import { openSetup } from "./setup-page.ts";
import { shopInBrowser } from "./shop-in-browser.ts";

const shop = shopInBrowser(startYoung);
let client: MqttClient;
let site: string;

beforeAll(async () => {
  site = (await getList(shop.gateway.url)).site.own ?? "";
  client = await connectAsync(shop.gateway.brokerUrl);
}, 300_000);

afterAll(async () => {
  await client?.endAsync(true);
}, 30_000);

const open = (hash: string, options?: BrowserContextOptions) => openSetup(shop, hash, options);

describe("the shop", () => {
  test("is described, and who hears of alarms is set and tested", async () => {
    const page = await open("#/setup/shop");
    await page.getByLabel("What people call the shop").fill("Boatyard, south hall");
    await page.getByLabel("Currency").fill("eur");
    await page.getByRole("button", { name: "Add: Shifts" }).click();
    await page.getByRole("button", { name: "Save the shop" }).click();
    await page.getByText("Saved.").first().waitFor();
    const stored = await (await fetch(`${shop.gateway.url}/api/v1/sites/${site}`)).json();
    expect(stored.description).toMatchObject({
      name: "Boatyard, south hall",
      currency: "EUR",
      calendar: { shifts: [{ days: [1, 2, 3, 4, 5], from: "07:00", to: "16:00" }] },
    });
    await page.getByLabel("Name", { exact: true }).fill("Night watch");
    await page.getByLabel("Way", { exact: true }).selectOption("mqtt");
    await page.getByRole("button", { name: "Add this contact" }).click();
    const chain = page.locator("[data-chain='1']");
    expect(await chain.getByLabel("urgent alarms").isChecked()).toBe(true);
    await chain.getByLabel("alarms to plan for").uncheck();
    await chain.getByRole("button", { name: "Add a step" }).click();
    const second = chain.locator("[data-step='2']");
    await second.getByText("this step reaches nobody").waitFor();
    await second.getByLabel("Night watch").check();
    await second.getByLabel("Hears of it").selectOption("600");
    const digest = page.locator("[data-field=digest]");
    await digest.getByLabel("At", { exact: true }).fill("06:30");
    await digest.getByLabel("Night watch").check();
    await page.locator("[data-way=mqtt]").waitFor();
    await page.locator("[data-reach=none]").waitFor();
    await page.getByLabel("Address of this dashboard").fill("http://192.168.1.9:8080");
    await page.locator("[data-reach=local]").waitFor();
    await page.getByLabel("Address of this dashboard").fill("https://gas.yard.example");
    await page.locator("[data-reach=outside]").waitFor();
    await page.getByLabel("At night only what is about somebody's safety").check();
    await page.getByRole("button", { name: "Save who hears of it" }).click();
    await page.getByText("Saved.").last().waitFor();
    const heard: string[] = [];
    client.on("message", (topic) => heard.push(topic));
    await client.subscribeAsync(`leeward/v1/${site}/alarms`);
    await page.getByRole("button", { name: "Send a test to Night watch" }).click();
    await page.getByText("alarm topic: arrived").waitFor({ timeout: 20_000 });
    const kept = await (await fetch(`${shop.gateway.url}/api/v1/notify`)).json();
    expect(kept.settings).toMatchObject({
      contacts: [{ id: "night-watch", name: "Night watch", ways: [{ kind: "mqtt" }] }],
      quietHours: { from: "20:00", to: "06:00" },
      chains: [
        {
          priorities: ["high", "medium"],
          steps: [
            { afterS: 0, contacts: ["night-watch"] },
            { afterS: 600, contacts: ["night-watch"] },
          ],
        },
      ],
      digestAt: "06:30",
      digestTo: ["night-watch"],
      publicUrl: "https://gas.yard.example",
    });
    const outbox = page.locator("[data-field=outbox]");
    await outbox.getByRole("button", { name: "Look again" }).click();
    await outbox.locator("[data-state=delivered]").first().waitFor();
    await page.context().close();
  }, 60_000);

  test("a web address is added, its secret is not told again, and a contact is taken out", async () => {
    const page = await open("#/setup/shop");
    await page.locator("[data-contact=night-watch]").waitFor();
    await page.getByLabel("Name", { exact: true }).fill("Stock room");
    await page.getByLabel("Way", { exact: true }).selectOption("webhook");
    const add = page.getByRole("button", { name: "Add this contact" });
    await page.getByLabel("Web address").fill("https://hooks.yard.example/gas");
    await page.getByLabel("Shared secret").fill("too short");
    expect(await add.isDisabled()).toBe(true);
    await page.getByRole("button", { name: "Make one up" }).click();
    const secret = await page.getByLabel("Shared secret").inputValue();
    expect(secret).toMatch(/^[0-9a-f]{32}$/);
    await add.click();
    const row = page.locator("[data-contact=stock-room]");
    await row.getByText("Not saved yet").waitFor();
    expect(await row.getByRole("button", { name: "Send a test" }).count()).toBe(0);
    await page.getByRole("button", { name: "Remove Night watch" }).click();
    await page.getByRole("button", { name: "Save who hears of it" }).click();
    await row.getByRole("button", { name: "Send a test to Stock room" }).waitFor();
    const said = await (await fetch(`${shop.gateway.url}/api/v1/notify`)).text();
    expect(said).not.toContain(secret);
    expect(JSON.parse(said).settings).toMatchObject({
      contacts: [
        {
          id: "stock-room",
          name: "Stock room",
          ways: [{ kind: "webhook", url: "https://hooks.yard.example/gas" }],
        },
      ],
      chains: [],
      digestTo: [],
    });
    await page.context().close();
  }, 60_000);
});
