import { join } from "node:path";
import { connectAsync, type MqttClient } from "mqtt";
import { afterAll, beforeAll, expect, test } from "vitest";
import { plantConfigFor } from "../../../gateway/virtual-shop/plant/from-station.ts";
import { createPlant } from "../../../gateway/virtual-shop/plant/plant.ts";
import { tubeStation } from "../../shared-core/bench/plant-bench.ts";
import { getList, sleep, startYoung } from "./gateway-process.ts";
import { artefacts, keepPicture } from "./page-checks.ts";
import { shopInBrowser } from "./shop-in-browser.ts";

const shop = shopInBrowser(startYoung);
let client: MqttClient;

beforeAll(async () => {
  client = await connectAsync(shop.gateway.brokerUrl);
}, 300_000);

afterAll(async () => {
  await client?.endAsync(true);
}, 30_000);

/** A regulator that sags, on a bench: an emptier cylinder each time, nothing else touched. */
class Rig {
  readonly #station: ReturnType<typeof tubeStation>;
  #plant: ReturnType<typeof createPlant>;
  #seq = 0;
  #needle = 0;
  #bled = false;
  #timer: NodeJS.Timeout | null = null;

  constructor(station: ReturnType<typeof tubeStation>) {
    this.#station = station;
    this.#plant = this.#settled(200);
  }

  #settled(bar: number) {
    const variation = {
      supplyEffectBarPer100: 0.6,
      floatFactor: 0.98,
      deliveryBar: 2.6,
      setAtBar: 200,
      presentBar: bar,
      presentC: 20,
    };
    return createPlant(plantConfigFor(this.#station, variation), 5);
  }

  /** Publishes what the sensors show, once a second, as a node would. */
  start(): void {
    this.#timer = setInterval(() => {
      this.#plant.step(1);
      void this.#publish();
    }, 1000);
  }

  stop(): void {
    if (this.#timer) clearInterval(this.#timer);
  }

  async #publish(): Promise<void> {
    this.#seq++;
    const sensed = this.#plant.readSensors();
    const { cylinderPa, linePa } = this.#bled ? { cylinderPa: 0, linePa: 0 } : sensed;
    const pack = [
      { bn: `${this.#station.site}/n-31:`, bt: Date.now() / 1000 },
      { n: "cylinder-pressure", u: "Pa", v: cylinderPa },
      { n: "line-pressure", u: "Pa", v: linePa },
      { n: "cylinder-temperature", u: "Cel", v: 20 },
      { n: "boot", v: 1 },
      { n: "seq", v: this.#seq },
    ];
    const [base, first, ...rest] = pack;
    await client.publishAsync(
      `leeward/v1/${this.#station.site}/n-31/samples`,
      JSON.stringify([{ ...base, ...first }, ...rest]),
      { qos: 1 },
    );
  }

  dial(reading: number): void {
    this.#plant.setReading(reading);
    this.#needle = this.#plant.inputs.drops[0]!.needle;
    this.#plant.inputs.drops[0]!.torchOpen = true;
    this.#plant.step(20);
    // Dialled again once it is still: the body has cooled.
    this.#plant.setReading(reading);
    this.#needle = this.#plant.inputs.drops[0]!.needle;
    this.#plant.step(2);
  }

  /** Valve closed, bled to nothing, another cylinder fitted and opened, gas on again. */
  async exchange(bar: number): Promise<void> {
    this.#bled = true;
    await sleep(8000);
    this.#plant = this.#settled(bar);
    this.#bled = false;
    await sleep(6000);
    const drop = this.#plant.inputs.drops[0]!;
    drop.needle = this.#needle;
    drop.torchOpen = true;
    this.#plant.step(20);
    await sleep(4000);
  }

  read() {
    const { indicated, deviceLpm } = this.#plant.truth().drops[0]!;
    return { indicated, lpm: deviceLpm };
  }
}

test("a guided test down a falling cylinder, left and taken up again, finds the sag", async () => {
  const site = (await getList(shop.gateway.url)).stations[0]?.site ?? "";
  const station = tubeStation({
    site,
    station: "rig",
    name: "Bench rig",
    node: "n-31",
    sensors: {
      cylinder: { rangeBar: 250, accuracyPercentFs: 0.5 },
      line: { rangeBar: 10, accuracyPercentFs: 0.5 },
    },
  });
  const made = await fetch(`${shop.gateway.url}/api/v1/stations/${site}.rig`, {
    method: "PUT",
    headers: { "content-type": "application/json", "if-none-match": "*" },
    body: JSON.stringify(station),
  });
  expect(made.status, await made.text()).toBeLessThan(300);
  const rig = new Rig(station);
  rig.start();
  const context = await shop.browser.newContext({
    viewport: { width: 390, height: 844 },
    locale: "en-GB",
    reducedMotion: "reduce",
  });
  try {
    const page = await context.newPage();
    await page.goto(`${shop.gateway.url}/#/bench`);
    await page.getByLabel("Station", { exact: true }).selectOption(`${site}.rig`);
    await page.getByRole("button", { name: "Start the guided test" }).click();
    const guided = page.locator("[data-guided=bench]");
    const take = guided.getByRole("button", { name: "Take this row" });
    const row = async (bar: number) => {
      await guided
        .locator("[data-field=cylinder]", {
          hasText: new RegExp(`^${bar - 3}|^${bar - 2}|^${bar - 1}|^${bar}|^${bar + 1}`),
        })
        .waitFor({ timeout: 30_000 });
      // The node's last second and the meter are read at the same time.
      await sleep(2500);
      const { indicated, lpm } = rig.read();
      await guided.getByLabel("Device shows, L/min").fill(indicated.toFixed(2));
      await guided.getByLabel("Meter shows, L/min").fill(lpm.toFixed(3));
      await take.click({ timeout: 30_000 });
    };
    rig.dial(8);
    await row(198);
    for (const bar of [100, 20]) {
      await rig.exchange(bar);
      await row(bar);
      rig.dial(8);
      await row(bar);
      if (bar === 100) {
        // Somebody closes the page in the middle: the test goes on where it was.
        await page.goto(`${shop.gateway.url}/#/`);
        await page.waitForSelector(".tile[data-t]");
        await page.reload();
        await page.goto(`${shop.gateway.url}/#/bench`);
        await page.locator('[data-guided=bench][data-step="4"]').waitFor();
      }
    }
    await guided.getByText("These rows are enough for a verdict.").waitFor();
    await keepPicture(page, join(artefacts, "bench-falling-390.png"), true);
    await guided.getByRole("button", { name: "End the guided test" }).click();
    await page.getByText("5 rows can be used.").first().waitFor();
    await page.getByRole("button", { name: "Work it out" }).click();
    await page.locator("[data-consistent=true]").waitFor({ timeout: 60_000 });
    const sag = await page
      .locator(".bench-parameters > div", { hasText: "supply pressure effect" })
      .locator("strong")
      .textContent();
    // The rig's own: the line falls 0.6 bar for each 100 bar of the cylinder.
    expect(Number.parseFloat(sag ?? "")).toBeGreaterThan(-0.008);
    expect(Number.parseFloat(sag ?? "")).toBeLessThan(-0.004);
  } finally {
    rig.stop();
    await context.close();
  }
}, 240_000);
