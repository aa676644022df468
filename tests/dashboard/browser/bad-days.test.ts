import { mkdir } from "node:fs/promises";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { connectAsync, type MqttClient } from "mqtt";
import type { BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { getList, startYoung } from "./gateway-process.ts";
import { artefacts, keepPicture } from "./page-checks.ts";
import { shopInBrowser } from "./shop-in-browser.ts";

// Each bad day on a node of its own, by what it really sends; each page is kept as a picture.

const pictures = `${artefacts}bad-days/`;
const site = "boatyard";

const shop = shopInBrowser(startYoung);
let context: BrowserContext;
let client: MqttClient;
let model: StationDocument;
const senders: NodeJS.Timeout[] = [];

beforeAll(async () => {
  await mkdir(pictures, { recursive: true });
  client = await connectAsync(shop.gateway.brokerUrl);
  const found = (await getList(shop.gateway.url)).stations.find(
    (view) =>
      view.description.flowDevice?.kind === "variable-area" &&
      view.description.cylinder &&
      !("filledKg" in view.description.cylinder),
  );
  if (!found) throw new Error("the virtual shop has no station with a tube");
  model = found.description;
  context = await shop.browser.newContext({
    viewport: { width: 1280, height: 800 },
    locale: "en-GB",
    reducedMotion: "reduce",
    serviceWorkers: "block",
  });
}, 300_000);

afterAll(async () => {
  for (const sender of senders) clearInterval(sender);
  await client?.endAsync(true);
}, 30_000);

type Record = { n: string; u?: string; v?: number; vs?: string; t?: number };

/** Describes a station of its own for a bad day. */
async function describeOne(
  name: string,
  without: readonly (keyof StationDocument)[] = [],
): Promise<string> {
  const base: Partial<StationDocument> = { ...model };
  for (const part of ["virtual", ...without] as const) delete base[part];
  const response = await fetch(`${shop.gateway.url}/api/v1/stations/${site}.${name}`, {
    method: "PUT",
    headers: { "content-type": "application/json", "if-none-match": "*" },
    body: JSON.stringify({
      ...base,
      station: name,
      name: `Day of ${name}`,
      ...(without.includes("node") ? {} : { node: `d-${name}` }),
    }),
  });
  if (!response.ok) throw new Error(`PUT ${name}: ${await response.text()}`);
  return `${site}.${name}`;
}

/** Sends packs of one node, one a second; returns what stops it. */
function send(name: string, records: (round: number) => Record[], offsetS = 0): () => void {
  let round = 0;
  const once = () => {
    round++;
    const pack = [
      { bn: `${site}/d-${name}:`, bt: Date.now() / 1000 + offsetS, n: "boot", v: 1 },
      { n: "seq", v: round },
      ...records(round),
    ];
    client.publish(`leeward/v1/${site}/d-${name}/samples`, JSON.stringify(pack), { qos: 1 });
  };
  once();
  const timer = setInterval(once, 1000);
  senders.push(timer);
  return () => clearInterval(timer);
}

const pressures = (round: number): Record[] => [
  { n: "cylinder-pressure", u: "Pa", v: 12e6 - 800 * round },
  { n: "line-pressure", u: "Pa", v: 300_000 + 900 * Math.sin(round) },
  { n: "cylinder-temperature", u: "Cel", v: 18 },
];

async function onStation(id: string): Promise<Page> {
  const page = await context.newPage();
  await page.goto(`${shop.gateway.url}/#/station/${id}`);
  await page.waitForSelector("main[data-station]");
  return page;
}

async function keep(page: Page, name: string): Promise<void> {
  await keepPicture(page, `${pictures}${name}.png`, true);
  const wider = await page.evaluate(
    () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
  );
  expect(wider).toBe(0);
}

/** The station's tile on the Floor, kept as a picture of its own. */
async function onFloor(page: Page, id: string, name: string) {
  await page.goto(`${shop.gateway.url}/#/`);
  const tile = page.locator(`[data-station="${id}"]`);
  await tile.scrollIntoViewIfNeeded();
  await page.waitForTimeout(1500);
  await keepPicture(tile, `${pictures}${name}-tile.png`);
  return tile;
}

const text = (page: Page, field: string) =>
  page.locator(`[data-field="${field}"]`).first().textContent();

// They mostly wait, each on a node of its own: side by side.
describe.concurrent("an honest picture of", () => {
  test("a node that falls silent: grey, its age in words, no solid diamond", async ({ expect }) => {
    const id = await describeOne("silent");
    // Idle first, so that the fall of the line tells that gas flows: then ten seconds are silence.
    const stop = send("silent", (round) =>
      round < 25
        ? [
            { n: "cylinder-pressure", u: "Pa", v: 12e6 },
            { n: "line-pressure", u: "Pa", v: 350_000 + 900 * Math.sin(round) },
            { n: "cylinder-temperature", u: "Cel", v: 18 },
          ]
        : pressures(round),
    );
    const page = await onStation(id);
    await page.waitForSelector("main[data-fresh=live]", { timeout: 60_000 });
    await expect.poll(() => text(page, "flow"), { timeout: 90_000 }).toMatch(/^\d/);
    await page.waitForTimeout(12_000);
    stop();
    await page.waitForSelector("main[data-fresh=old]", { timeout: 240_000 });
    expect(await page.locator(".slot-diamond:not(.slot-diamond-hollow)").count()).toBe(0);
    // As old as its last sample, not as the line that says so.
    expect(await text(page, "age")).toMatch(/^old: \d+ (min|s) ago$/);
    expect(await text(page, "age")).not.toMatch(/^old: \d s ago$/);
    expect(await text(page, "sentence")).not.toContain("right");
    await keep(page, "node-silent");
    await page.goto(`${shop.gateway.url}/#/`);
    const tile = page.locator(`[data-station="${id}"]`);
    await tile.scrollIntoViewIfNeeded();
    await expect.poll(() => tile.getAttribute("data-fresh")).toBe("old");
    expect(await tile.locator(".slot-diamond:not(.slot-diamond-hollow)").count()).toBe(0);
    await page.close();
  }, 400_000);

  test("a cylinder sensor in fault: a dash, the fault named, nothing made up", async ({
    expect,
  }) => {
    const id = await describeOne("fault");
    send("fault", (round) =>
      round < 12
        ? pressures(round)
        : [
            ...pressures(round).filter(({ n }) => n !== "cylinder-pressure"),
            { n: "cylinder-pressure/fault", vs: "open-circuit" },
          ],
    );
    const page = await onStation(id);
    await expect.poll(() => text(page, "cylinder-pressure"), { timeout: 90_000 }).toBe("–");
    await expect.poll(() => text(page, "sentence"), { timeout: 90_000 }).toMatch(/sensor|fault/i);
    expect(await text(page, "cylinder-pressure-measured")).toBe("–");
    await keep(page, "sensor-fault");
    const tile = await onFloor(page, id, "sensor-fault");
    expect(await tile.locator("[data-field=cylinder-pressure]").textContent()).toBe("–");
    expect(await tile.locator(".sentence-text").textContent()).toMatch(/sensor|fault/i);
    // A figure beside a fault says what it still rests on.
    if (/^\d/.test((await tile.locator("[data-field=flow]").textContent()) ?? "")) {
      const note = await tile.locator("[data-field=flow-note]").textContent();
      expect(note).toContain("from the line pressure only");
    }
    await page.close();
  }, 240_000);

  test.each([
    { name: "ahead", offsetS: 4 * 3600 },
    { name: "behind", offsetS: -600 },
  ])(
    "a clock that is $name: nothing of it looks live, or the clock is named",
    async ({ name, offsetS }) => {
      const id = await describeOne(name);
      send(name, pressures, offsetS);
      const page = await onStation(id);
      await page.waitForTimeout(30_000);
      const fresh = await page.locator("main").getAttribute("data-fresh");
      const sentence = (await text(page, "sentence")) ?? "";
      if (fresh === "live") expect(sentence).toMatch(/clock/i);
      expect(await text(page, "age")).not.toMatch(/^-/);
      await keep(page, `clock-${name}`);
      const tile = await onFloor(page, id, `clock-${name}`);
      const told = tile.locator(".sentence-text");
      if ((await tile.getAttribute("data-fresh")) === "live") {
        expect(await told.textContent()).toMatch(/clock/i);
      }
      if (name === "ahead") {
        // Hours ahead nothing of it is taken: the tile says why, and what to do.
        expect(sentence).toMatch(/^Node clock wrong: (4\sh\s00|3\sh\s59)/);
        expect(await told.textContent()).toMatch(/^Node clock wrong: .+ ahead\..+restart it/);
        expect(await tile.locator(".slot-diamond").count()).toBe(0);
      }
      expect(await tile.locator("[data-field=age]").textContent()).not.toMatch(/^-/);
      await page.close();
    },
    200_000,
  );

  test("a clock that jumps 17 minutes ahead: the clock is the alarm, not the silence that it causes", async ({
    expect,
  }) => {
    const id = await describeOne("jumps");
    const stop = send("jumps", pressures);
    const page = await onStation(id);
    await page.waitForSelector("main[data-fresh=live]", { timeout: 60_000 });
    await page.waitForTimeout(10_000);
    stop();
    send("jumps", pressures, 1020);
    const sentence = page.locator("[data-field=sentence]");
    await sentence.getByText("The node's clock is 17 min ahead").waitFor({ timeout: 240_000 });
    expect(await sentence.textContent()).toContain("its readings are refused");
    // Long enough for the estimator, which hears nothing, to take it for silent.
    await page.waitForTimeout(20_000);
    const rung = (await (await fetch(`${shop.gateway.url}/api/v1/alarms`)).json()) as {
      alarms: { station: string; condition: string; state: string }[];
    };
    const here = rung.alarms.filter(({ station }) => station === id);
    expect(here.map(({ condition, state }) => `${condition} ${state}`)).toEqual([
      "node-clock-wrong unacknowledged",
    ]);
    await keep(page, "clock-jumps");
    const tile = await onFloor(page, id, "clock-jumps");
    expect(await tile.locator(".sentence-text").textContent()).toContain("17 min ahead");
    await page.close();
  }, 400_000);

  test("a station half set up: raw pressures, and what is missing is said", async ({ expect }) => {
    const id = await describeOne("half", ["flowDevice", "procedure", "hose", "lineTap"]);
    send("half", pressures);
    const page = await onStation(id);
    await expect
      .poll(() => text(page, "cylinder-pressure-measured"), { timeout: 60_000 })
      .toMatch(/^1[12]\d bar$/);
    expect(await text(page, "flow-note")).toContain("what this weld needs is not set");
    expect(await page.getByText("No flow device described").count()).toBeGreaterThan(0);
    expect(await text(page, "sentence")).not.toContain("right");
    await keep(page, "half-set-up");
    const tile = await onFloor(page, id, "half-set-up");
    expect(await tile.locator("[data-field=device]").textContent()).toContain(
      "No flow device described",
    );
    const told = tile.locator(".sentence-text");
    expect(await told.textContent()).not.toContain("right");
    expect(await told.textContent()).toContain(
      "Not described yet: the flow device and what is welded.",
    );
    await told.getByRole("link", { name: "Finish set-up" }).click();
    await expect.poll(() => page.url()).toContain(`#/setup/station/${id}`);
    await page.close();
  }, 120_000);

  test("a station whose node is not bound yet: no figure, and what to do", async ({ expect }) => {
    const id = await describeOne("unbound", ["node"]);
    const page = await onStation(id);
    expect(await text(page, "sentence")).toMatch(/^No node is bound.+Setup/);
    await keep(page, "no-node");
    const tile = await onFloor(page, id, "no-node");
    expect(await tile.getAttribute("data-fresh")).toBe("none");
    expect(await tile.locator(".slot-diamond").count()).toBe(0);
    expect(await tile.locator("[data-field=left]").textContent()).toBe("–");
    expect(await tile.locator(".sentence-text").textContent()).toContain("No node");
    await page.close();
  }, 60_000);

  test("the first seconds, when nothing is certain: a dash with its reason", async ({ expect }) => {
    const id = await describeOne("new");
    const stop = send("new", pressures);
    const page = await onStation(id);
    await page.waitForSelector("main[data-t]", { timeout: 30_000 });
    const flow = (await text(page, "flow")) ?? "";
    const note = (await text(page, "flow-note")) ?? "";
    if (flow === "–") expect(note.length).toBeGreaterThan(5);
    else expect(flow).toMatch(/^\d|^off$/);
    await keep(page, "just-started");
    stop();
    await page.close();
  }, 60_000);
});
