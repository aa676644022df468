import { connectAsync } from "mqtt";
import { expect, test } from "vitest";
import { getList, startYoung } from "./gateway-process.ts";
import { shopInBrowser } from "./shop-in-browser.ts";

const shop = shopInBrowser(startYoung);

test("a node that nobody knows appears, is claimed as a new station, and its values appear", async () => {
  const site = (await getList(shop.gateway.url)).stations[0]?.site ?? "";
  const client = await connectAsync(shop.gateway.brokerUrl);
  let seq = 0;
  const publish = () => {
    seq++;
    const pack = [
      {
        bn: `${site}/n-19:`,
        bt: Date.now() / 1000,
        n: "cylinder-pressure",
        u: "Pa",
        v: 18_230_000,
      },
      { n: "line-pressure", u: "Pa", v: 342_000 },
      { n: "cylinder-temperature", u: "Cel", v: 17.2 },
      { n: "boot", v: 1 },
      { n: "seq", v: seq },
    ];
    return client.publishAsync(`leeward/v1/${site}/n-19/samples`, JSON.stringify(pack), { qos: 1 });
  };
  const context = await shop.browser.newContext({
    viewport: { width: 390, height: 844 },
    locale: "en-GB",
  });
  const page = await context.newPage();
  await page.goto(`${shop.gateway.url}/`);
  await page.waitForSelector(".tile[data-t]");
  await publish();
  const timer = setInterval(() => void publish(), 1000);
  try {
    const node = page.locator('[data-node="n-19"]');
    await node.waitFor({ timeout: 20_000 });
    expect(await node.locator('[data-channel="cylinder-pressure"]').textContent()).toBe("182 bar");
    expect(await node.locator('[data-channel="line-pressure"]').textContent()).toBe("3.42 bar");

    await node.getByRole("link", { name: "Claim this node" }).click();
    await page.getByLabel("Station name").fill("Slipway 9");
    const half = page.getByRole("button", { name: "Save unfinished" });
    expect(await half.count()).toBe(0);
    await page.getByRole("button", { name: "Next" }).click();
    // The gas is on the label and nowhere else: only with it something can be saved.
    await page.getByLabel("Gas on the label").selectOption("I1-Ar");
    await half.click();
    await page.locator(`[data-saved="${site}.slipway-9"]`).waitFor();
    await page.getByRole("link", { name: "Floor" }).click();

    const tile = page.locator(`[data-station="${site}.slipway-9"]`);
    await tile.waitFor({ timeout: 20_000 });
    await tile.locator("[data-field=cylinder-pressure]", { hasText: "182 bar" }).waitFor({
      timeout: 30_000,
    });
    expect(await node.count()).toBe(0);
    const made = (await getList(shop.gateway.url)).stations.find(
      (view) => view.name === "Slipway 9",
    );
    expect(made?.description).toMatchObject({ node: "n-19", cylinder: { gas: "I1-Ar" } });
    expect(made?.virtual).toBe(false);
    expect(await tile.locator(".tag").count()).toBe(0);
  } finally {
    clearInterval(timer);
    await client.endAsync(true);
    await context.close();
  }
}, 90_000);

test("a node of another station is named as that before anything is filled in", async () => {
  const site = (await getList(shop.gateway.url)).stations[0]?.site ?? "";
  const context = await shop.browser.newContext({ locale: "en-GB" });
  const page = await context.newPage();
  await page.goto(`${shop.gateway.url}/#/setup/new`);
  await page.getByLabel("Code on the node, or its name").fill("n-19");
  await page.getByText("n-19 belongs to Slipway 9.").waitFor();
  expect(await page.getByRole("radio", { name: "n-19" }).count()).toBe(0);
  // At its own station it is no stranger.
  await page.locator("[data-field=owned] a").click();
  await page.locator("[data-field=given-node]", { hasText: "n-19" }).waitFor();
  expect(new URL(page.url()).hash).toBe(`#/setup/station/${site}.slipway-9`);
  expect(await page.locator("[data-field=owned]").count()).toBe(0);
  await context.close();
}, 60_000);

test("a new node gets a file of its own name, and stands in the form; without an address it is warned of", async () => {
  // Not the demo's, which is deleted when it ends.
  const site = (await getList(shop.gateway.url)).site.own;
  const context = await shop.browser.newContext({ locale: "en-GB", acceptDownloads: true });
  const page = await context.newPage();
  await page.goto(`${shop.gateway.url}/#/setup/new`);
  await page.getByText("Let a new node in").click();
  const warning = page.getByText("Without this the node does not find the gateway");
  await warning.waitFor();
  await page.getByLabel("Address of this gateway in that network").fill("192.0.2.10");
  expect(await warning.count()).toBe(0);
  const name = page.getByLabel("Name of the new node");
  await name.fill("N 44");
  await page.getByText("This is no node's code.").waitFor();
  await name.fill("n-44");
  await page.getByRole("button", { name: "Make its credentials" }).click();
  await page.getByText(`Node n-44 of the site ${site}.`).waitFor();
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save the file for the node" }).click(),
  ]);
  expect(download.suggestedFilename()).toBe(`provision-${site}-n-44`);
  expect(await page.getByLabel("Code on the node, or its name").inputValue()).toBe(`${site}/n-44`);
  await context.close();
}, 60_000);

test("a gateway that is gone is visible at once, and the page opens without it", async () => {
  const context = await shop.browser.newContext({
    viewport: { width: 1280, height: 800 },
    locale: "en-GB",
  });
  const page = await context.newPage();
  await page.goto(`${shop.gateway.url}/`);
  await page.waitForSelector(".tile[data-fresh=live]");
  // The service worker keeps the page itself.
  await page.waitForFunction(async () => (await navigator.serviceWorker.ready).active !== null);
  await page.waitForFunction(async () => {
    const found = (await indexedDB.databases()).some(({ name }) => name === "leeward");
    return found && (await navigator.serviceWorker.ready).active !== null;
  });
  await page.reload();
  await page.waitForSelector(".tile[data-fresh=live]");
  expect(await page.locator("[data-field=lost]").count()).toBe(0);

  await shop.gateway.stop();
  await page.waitForSelector("[data-field=lost]", { timeout: 3000 });
  await expectAllOld();

  // Opened anew with no gateway at all: the last values, marked as old.
  await page.reload();
  await page.waitForSelector("[data-field=lost]", { timeout: 10_000 });
  await expectAllOld();

  async function expectAllOld(): Promise<void> {
    // What this device remembers is read beside the attempt to reach the gateway.
    await expect.poll(() => page.locator(".tile").count()).toBeGreaterThanOrEqual(6);
    expect(await page.locator(".tile[data-fresh=live]").count()).toBe(0);
    expect(await page.locator(".slot-diamond:not(.slot-diamond-hollow)").count()).toBe(0);
    const ages = await page.locator(".tile [data-field=age]").allTextContents();
    for (const age of ages) expect(age).toMatch(/^old: .+ ago$|^no data yet$/);
    expect(await page.locator(".link-state").first().textContent()).toContain("not live");
    const [ink, second] = await page.evaluate(() => {
      const style = getComputedStyle(document.documentElement);
      const probe = document.createElement("i");
      document.body.append(probe);
      const colours = ["--ink", "--ink-2"].map((name) => {
        probe.style.color = style.getPropertyValue(name);
        return getComputedStyle(probe).color;
      });
      probe.remove();
      return colours;
    });
    const shown = await page
      .locator(".tile .flow-number")
      .first()
      .evaluate((element) => getComputedStyle(element).color);
    expect(shown).toBe(second);
    expect(shown).not.toBe(ink);
  }
}, 120_000);
