import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { connectAsync, type MqttClient } from "mqtt";
import type { BrowserContextOptions, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { getList } from "./gateway-process.ts";
import { artefacts, sizes, violations } from "./page-checks.ts";
import { shopInBrowser } from "./shop-in-browser.ts";

const shop = shopInBrowser();
let client: MqttClient;
let site: string;
let timer: NodeJS.Timeout;
/** What the unfitted node in the tests measures, gauge Pa. */
let linePa = 800;

beforeAll(async () => {
  site = (await getList(shop.gateway.url)).stations[0]?.site ?? "";
  client = await connectAsync(shop.gateway.brokerUrl);
  let seq = 0;
  const publish = () => {
    seq++;
    const pack = [
      { bn: `${site}/n-31:`, bt: Date.now() / 1000, n: "cylinder-pressure", u: "Pa", v: -21_000 },
      { n: "line-pressure", u: "Pa", v: linePa },
      { n: "cylinder-temperature", u: "Cel", v: 19.4 },
      { n: "regulator-temperature", u: "Cel", v: 20.2 },
      { n: "boot", v: 1 },
      { n: "seq", v: seq },
    ];
    const topic = `leeward/v1/${site}/n-31/samples`;
    return client.publishAsync(topic, JSON.stringify(pack), { qos: 1 });
  };
  await publish();
  timer = setInterval(() => void publish(), 1000);
}, 300_000);

afterAll(async () => {
  clearInterval(timer);
  await client?.endAsync(true);
}, 30_000);

async function open(hash: string, options: BrowserContextOptions = {}): Promise<Page> {
  const context = await shop.browser.newContext({
    viewport: sizes.laptop,
    locale: "en-GB",
    reducedMotion: "reduce",
    serviceWorkers: "block",
    ...options,
  });
  const page = await context.newPage();
  await page.goto(`${shop.gateway.url}/${hash}`);
  await page.waitForSelector(".setup h1");
  return page;
}

const sideways = (page: Page) =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

const next = (page: Page) => page.getByRole("button", { name: "Next" }).click();

const getView = async (id: string) =>
  (await (await fetch(`${shop.gateway.url}/api/v1/stations/${id}`)).json()) as StationView;

describe("a station from the beginning", () => {
  test("node, gas, device, sensors against the air, weld: set up, with what it cannot see", async () => {
    const page = await open(`#/setup/node/${site}.n-31`);
    await page.getByLabel("What people call the station").fill("Mould loft");
    await next(page);
    await page.getByLabel("Gas on the label, by ISO 14175").selectOption("I1-Ar");
    await page.getByLabel("The volume is").selectOption("stamped");
    await next(page);
    await page.getByLabel("Line pressure while gas flows, bar").fill("3.5");
    await page.getByRole("combobox", { name: "Flow device" }).selectOption("variable-area");
    await page.getByLabel("Pressure stamped on the tube, bar").fill("3.5");
    await page.getByLabel("Highest figure of the scale").fill("16");
    await next(page);
    await page.getByLabel("Range of the cylinder sensor, bar").fill("250");
    await page.getByLabel("Its proof pressure, bar").fill("500");
    await page.getByLabel("Range of the line sensor, bar").fill("10");
    // The line sensor is not safe yet: first unknown, then refused, then behind a relief device.
    await page.locator("[data-rule=line-proof-unknown]").waitFor();
    await page.getByLabel("Proof pressure of the line sensor, bar").fill("30");
    await page.locator("[data-rule=line-burst]").waitFor();
    expect(await page.locator("[data-rule=line-burst]").textContent()).toMatch(/243 bar.*30 bar/);

    // Live values of the unfitted sensors: both read 0 within their class, yet nothing is fitted
    // while the set-up would be dangerous.
    const sanity = page.locator("[data-field=sanity]");
    await sanity.locator('[data-channel="line-pressure"][data-state=good]').waitFor();
    await page.getByText("fit nothing until that is mended").waitFor();
    linePa = 90_000;
    await sanity.locator('[data-channel="line-pressure"][data-state=off]').waitFor();
    expect(await page.locator("[data-good=true]").count()).toBe(0);
    linePa = 800;

    await next(page);
    await page.getByLabel("Process").selectOption("GTAW");
    await page.getByLabel("Material").selectOption("stainless");
    await page.getByLabel("Cup number").fill("7");
    await page.locator("[data-field=needs]", { hasText: "L/min wanted" }).waitFor();
    await next(page);
    const save = page.getByRole("button", { name: "Save the station" });
    expect(await save.isDisabled()).toBe(true);
    expect(await violations(page)).toEqual([]);
    await page.getByRole("button", { name: "Go to: Sensors" }).click();
    await page.locator("[data-step=device]").click();
    await page.getByLabel("Relief device opens at, bar").fill("12");
    await page.locator("[data-step=check]").click();
    expect(await page.locator("[data-rule]").count()).toBe(0);
    await page.locator("[data-step=sensors]").click();
    await page.locator("[data-good=true]").waitFor();
    await page.locator("[data-step=check]").click();
    const blind = await page
      .locator("[data-blind]")
      .evaluateAll((list) => list.map((one) => (one as HTMLElement).dataset.blind));
    expect(blind).toEqual(expect.arrayContaining(["nozzle", "hose", "seal", "no-arc-signal"]));
    await page.locator("[data-field=all-said]").waitFor();
    await save.click();
    await page.locator(`[data-saved="${site}.mould-loft"]`).waitFor();
    expect(await page.getByRole("radio").count()).toBe(0);
    const made = await getView(`${site}.mould-loft`);
    expect(made.description).toMatchObject({
      node: "n-31",
      cylinder: { gas: "I1-Ar", composition: { Ar: 1 }, filledBar: 200, waterVolumeUPercent: 0.5 },
      regulator: { deliveryBar: 3.5, reliefBar: 12 },
      flowDevice: { kind: "variable-area", scaleBar: 3.5, scaleMax: 16 },
      sensors: { cylinder: { rangeBar: 250, proofBar: 500 }, line: { rangeBar: 10, proofBar: 30 } },
      procedure: { process: "GTAW", cup: 7 },
    });
    await page.context().close();
  }, 90_000);

  test("by keyboard alone, half: kept on this device, then at the gateway, and shown as half", async () => {
    const page = await open("#/setup");
    await page.getByRole("link", { name: "Set up a station", exact: true }).focus();
    await page.keyboard.press("Enter");
    await page.waitForSelector(".setup-form");
    await page.getByLabel("What people call the station").focus();
    await page.keyboard.type("Paint shed");
    // Enter goes on to the next step, whose heading then has the focus.
    await page.keyboard.press("Enter");
    await page.waitForFunction(() => document.activeElement?.textContent?.includes("Step 2 of 6"));
    await page.reload();
    await page.waitForSelector(".setup h1");
    await page.goto(`${shop.gateway.url}/#/setup`);
    const draft = page.locator("[data-field=draft]");
    expect(await draft.textContent()).toContain("Paint shed");
    await draft.getByRole("link", { name: "Go on" }).click();
    const gas = page.getByLabel("Gas on the label, by ISO 14175");
    await gas.focus();
    await page.keyboard.type("M20-ArC-8");
    expect(await gas.inputValue()).toBe("M20-ArC-8");
    const half = page.getByRole("button", { name: "Save as it is, finish later" });
    await half.focus();
    await page.keyboard.press("Enter");
    await page.locator(`[data-saved="${site}.paint-shed"]`).waitFor();
    await page.goto(`${shop.gateway.url}/#/setup`);
    const row = page.locator(`[data-setup="${site}.paint-shed"]`);
    await row.waitFor();
    expect(await row.getAttribute("data-half")).toBe("true");
    const told = await row.textContent();
    expect(told).toMatch(/half set up.*a node.*flow device.*what is welded/);
    expect(await page.locator("[data-field=draft]").count()).toBe(0);
    await page.context().close();
  }, 60_000);

  test("a node for a station that is here takes one tap", async () => {
    await fetch(`${shop.gateway.url}/api/v1/stations/${site}.spare`, {
      method: "PUT",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({
        schema: 1,
        station: "spare",
        site,
        name: "Spare bay",
        cylinder: {
          gas: "I1-Ar",
          composition: { Ar: 1 },
          waterVolumeL: 50,
          filledBar: 200,
          filledC: 15,
        },
      }),
    });
    const page = await open(`#/setup/node/${site}.n-32`);
    await page.getByRole("radio", { name: "It belongs to a station that is here" }).check();
    await page
      .getByLabel("It belongs to a station that is here")
      .last()
      .selectOption(`${site}.spare`);
    await page.getByRole("button", { name: "Give it to this station" }).click();
    await page.waitForSelector(`main[data-station="${site}.spare"]`);
    expect((await getView(`${site}.spare`)).description.node).toBe("n-32");
    await page.context().close();
  }, 60_000);
});

describe("a station that is here", () => {
  test("is changed, its node blinks on demand, and somebody else's change is not overwritten", async () => {
    const before = (await getList(shop.gateway.url)).stations.find(
      (one) => one.station === "pipe-purge",
    );
    if (!before) throw new Error("no pipe-purge");
    const page = await open(`#/setup/station/${before.id}`);
    await page.getByRole("button", { name: "Let it blink" }).click();
    await page.locator("[data-field=identify]", { hasText: "its lamp blinks now" }).waitFor({
      timeout: 20_000,
    });
    await page.locator("[data-step=gas]").click();
    await page.getByLabel("Change it at, bar").fill("12");
    await page.locator("[data-step=check]").click();
    // Meanwhile somebody else saves.
    const other = await fetch(`${shop.gateway.url}/api/v1/stations/${before.id}`, {
      method: "PUT",
      headers: { "content-type": "application/json", "if-match": `"${before.version}"` },
      body: JSON.stringify({ ...before.description, altitudeM: 3 }),
    });
    expect(other.status).toBe(200);
    await page.getByRole("button", { name: "Save the station" }).click();
    await page.getByText("Somebody else changed this station meanwhile").waitFor();
    expect((await getView(before.id)).description.altitudeM).toBe(3);
    // Opened anew it begins with what stands now.
    await page.goto(`${shop.gateway.url}/#/setup`);
    await page.waitForSelector("[data-setup]");
    await page.goto(`${shop.gateway.url}/#/setup/station/${before.id}`);
    await page.locator("[data-step=gas]").click();
    const residual = page.getByLabel("Change it at, bar");
    expect(await residual.inputValue()).toBe(String(before.description.cylinder?.residualBar));
    await residual.fill("12");
    await page.getByRole("button", { name: "Save the station" }).click();
    await page.locator(`[data-saved="${before.id}"]`).waitFor();
    const after = await getView(before.id);
    expect(after.description).toMatchObject({ altitudeM: 3, cylinder: { residualBar: 12 } });
    expect(after.description.flowDevice).toEqual(before.description.flowDevice);
    await page.context().close();
  }, 90_000);
});

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

describe("every place of Setup is accessible and fits its screen", () => {
  const cases = (Object.keys(sizes) as (keyof typeof sizes)[]).flatMap((size) =>
    (["light", "dark"] as const).map((scheme) => ({ size, scheme })),
  );
  test.each(cases)(
    "$size, $scheme",
    async ({ size, scheme }) => {
      const page = await open("#/setup", { viewport: sizes[size], colorScheme: scheme });
      const station = `${site}.slipway`;
      const places = ["", "/new", "/shop", "/phone", `/label/${station}`, `/station/${station}`];
      for (const place of places) {
        await page.goto(`${shop.gateway.url}/#/setup${place}`);
        await page.waitForSelector(".setup h1");
        const steps = place.startsWith("/station") ? [1, 2, 3, 4, 5, 6] : [0];
        for (const step of steps) {
          if (step > 0)
            await page
              .locator(".setup-steps button")
              .nth(step - 1)
              .click();
          await page.waitForTimeout(150);
          const name = place.split("/")[1] || "home";
          await page.screenshot({
            path: `${artefacts}setup-${name}${step || ""}-${size}-${scheme}.png`,
            fullPage: true,
          });
          expect(await violations(page), `${place} ${step}`).toEqual([]);
          expect(await sideways(page), `${place} ${step} scrolls sideways`).toBe(0);
          if (step > 0 && size === "phone") {
            // The steps take one line, so that the first field is on the first screen.
            const bar = await page.locator(".setup-steps").boundingBox();
            expect(bar?.height).toBeLessThan(60);
          }
        }
      }
      await page.context().close();
    },
    180_000,
  );

  test("text at 200 %, in a window of half the width, loses nothing", async () => {
    const page = await open("#/setup", { viewport: { width: 640, height: 800 } });
    await page.addStyleTag({ content: "html { font-size: 200% !important; }" });
    const station = `${site}.slipway`;
    for (const place of [
      "",
      "/new",
      "/shop",
      "/phone",
      `/label/${station}`,
      `/station/${station}`,
    ]) {
      await page.goto(`${shop.gateway.url}/#/setup${place}`);
      await page.waitForSelector(".setup h1");
      expect(await sideways(page), place).toBe(0);
      const cut = await page.evaluate(() =>
        [
          ...document.querySelectorAll<HTMLElement>(
            ".setup button, .setup a, .setup p, .setup label",
          ),
        ]
          .filter((one) => one.scrollWidth > one.clientWidth + 1 && one.clientWidth > 0)
          .filter((one) => getComputedStyle(one).overflow !== "visible")
          .map((one) => one.textContent),
      );
      expect(cut, place).toEqual([]);
    }
    await page.context().close();
  }, 60_000);

  test("with reduced motion nothing moves by itself", async () => {
    const page = await open("#/setup", { reducedMotion: "reduce" });
    for (const hash of ["#/setup", "#/"]) {
      await page.goto(`${shop.gateway.url}/${hash}`);
      await page.waitForTimeout(500);
      const moving = await page.evaluate(
        () => document.getAnimations().filter((one) => one.playState === "running").length,
      );
      expect(moving, hash).toBe(0);
    }
    await page.context().close();
  }, 30_000);

  test("each field of Setup has a name for screen readers", async () => {
    const page = await open(`#/setup/station/${site}.slipway`);
    for (let step = 0; step < 6; step++) {
      await page.locator(".setup-steps button").nth(step).click();
      const nameless = await page.evaluate(() =>
        [...document.querySelectorAll<HTMLInputElement>("main input, main select, main button")]
          .filter((one) => {
            const labelled = (one.labels?.length ?? 0) > 0 || one.getAttribute("aria-label");
            return !labelled && one.textContent?.trim() === "";
          })
          .map((one) => one.outerHTML.slice(0, 100)),
      );
      expect(nameless).toEqual([]);
    }
    await page.context().close();
  }, 30_000);
});

describe("on a phone", () => {
  test("installable: a manifest with icons, a name and a start, and a worker that keeps the page", async () => {
    const page = await open("#/setup/phone", { serviceWorkers: "allow", viewport: sizes.phone });
    const cdp = await page.context().newCDPSession(page);
    const { errors, data } = await cdp.send("Page.getAppManifest");
    expect(errors).toEqual([]);
    const manifest = JSON.parse(data ?? "{}");
    expect(manifest).toMatchObject({ name: "Leeward", display: "standalone", start_url: "./" });
    expect(manifest.icons.map((icon: { sizes: string }) => icon.sizes)).toEqual(
      expect.arrayContaining(["192x192", "512x512"]),
    );
    await page.waitForFunction(async () => (await navigator.serviceWorker.ready).active !== null);
    expect(await page.locator("[data-need=install]").textContent()).toContain("works here");
    await page.context().close();
  }, 60_000);

  test("a message of an alarm shows itself with no page of its own to help it", async () => {
    const page = await open("#/setup/phone", { serviceWorkers: "allow", viewport: sizes.phone });
    await page.context().grantPermissions(["notifications"], { origin: shop.gateway.url });
    const cdp = await page.context().newCDPSession(page);
    const registered = new Promise<string>((resolve) => {
      cdp.on("ServiceWorker.workerRegistrationUpdated", ({ registrations }) => {
        const found = registrations.find((one) => one.scopeURL.startsWith(shop.gateway.url));
        if (found) resolve(found.registrationId);
      });
    });
    await cdp.send("ServiceWorker.enable");
    await page.waitForFunction(async () => (await navigator.serviceWorker.ready).active !== null);
    const deliver = async (data: string) =>
      cdp.send("ServiceWorker.deliverPushMessage", {
        origin: shop.gateway.url,
        registrationId: await registered,
        data,
      });
    const shown = () =>
      page.evaluate(async () => {
        const list = await (await navigator.serviceWorker.ready).getNotifications();
        return list.map((one) => ({ title: one.title, body: one.body, tag: one.tag }));
      });
    const line = "Slipway: under-shielding, dial 12 L/min now";
    const message = { tag: "a~b~c", line, body: "The float shows 8.", link: null, t: 1764057600 };
    await deliver(JSON.stringify({ ...message, priority: "high", repeat: false }));
    await expect.poll(shown).toEqual([{ title: line, body: "The float shows 8.", tag: "a~b~c" }]);
    // A repeat takes the place of its original; what cannot be read shows all the same.
    await deliver(JSON.stringify({ ...message, priority: "high", repeat: true }));
    await deliver("no json");
    await expect
      .poll(async () => (await shown()).map((one) => one.title).sort())
      .toEqual(["Leeward", line]);
    await page.context().close();
  }, 60_000);

  test("without a network it opens with the last values, marked as old, and Setup too", async () => {
    const page = await open("#/setup", { serviceWorkers: "allow", viewport: sizes.phone });
    await page.waitForFunction(async () => (await navigator.serviceWorker.ready).active !== null);
    await page.waitForFunction(async () =>
      (await indexedDB.databases()).some(({ name }) => name === "leeward"),
    );
    await page.reload();
    await page.waitForSelector(".setup h1");
    const cdp = await page.context().newCDPSession(page);
    await cdp.send("Network.enable");
    await cdp.send("Network.emulateNetworkConditions", {
      offline: true,
      latency: 0,
      downloadThroughput: 0,
      uploadThroughput: 0,
    });
    await page.context().setOffline(true);
    await page.goto(`${shop.gateway.url}/#/`);
    await page.reload();
    await page.waitForSelector("[data-field=lost]");
    await page.waitForSelector(".tile[data-t]");
    expect(await page.locator(".tile[data-fresh=live]").count()).toBe(0);
    expect(await page.locator(".slot-diamond:not(.slot-diamond-hollow)").count()).toBe(0);
    await page.goto(`${shop.gateway.url}/#/setup`);
    await page.waitForSelector(".setup h1");
    await page.context().close();
  }, 60_000);
});
