import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { connectAsync } from "mqtt";
import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { getList, startGateway } from "./gateway-process.ts";
import {
  artefacts,
  fewLooks,
  freshContext,
  keepPicture,
  sideways,
  sizes,
  violations,
} from "./page-checks.ts";
import { shopInBrowser } from "./shop-in-browser.ts";

// What is told of a job and of a purge, from a real gateway to the picture.

const shop = shopInBrowser(() =>
  // The purge that looks forgotten is open for more than forty minutes.
  startGateway(240_000, undefined, ["--demo-hours", "1"]),
);
const site = "boatyard";

async function viewOf(id: string) {
  const view = (await getList(shop.gateway.url)).stations.find((one) => one.id === id);
  if (!view) throw new Error(`no station ${id}`);
  return view;
}

const conditions = async (id: string) =>
  (await viewOf(id)).estimate?.alarms.map(({ condition }) => condition) ?? [];

/** One picture a size; none runs over the side or fails for those who see badly. */
async function keep(page: Page, name: string): Promise<void> {
  for (const { size, scheme } of fewLooks) {
    await page.setViewportSize(sizes[size]);
    await page.emulateMedia({ colorScheme: scheme });
    expect(await sideways(page)).toBe(0);
    expect(await violations(page)).toEqual([]);
    await keepPicture(page, `${artefacts}${name}-${size}-${scheme}.png`, true);
  }
  await page.setViewportSize(sizes.phone);
}

/** Seconds of ordinary welds that a node brings along, and when they began. */
const pastS = 600;
const startS = Math.floor(Date.now() / 1000) - pastS;

/**
 * Samples `beforeS` (0 or less) off `atS`: welds of 40 s every 60 s, at 10 L/min from 50 L, then none,
 * but an arc from 8 s after the last.
 */
function recordsAt(atS: number, beforeS: number) {
  const s = atS + beforeS;
  const past = Math.min(s, pastS);
  const on = s < pastS && s % 60 >= 20;
  const onS = Math.floor(past / 60) * 40 + Math.max(0, (past % 60) - 20);
  const noise = 600 * Math.sin(s * 1.7);
  return [
    { n: "cylinder-pressure", u: "Pa", t: beforeS, v: 12e6 - 330 * onS + noise },
    { n: "line-pressure", u: "Pa", t: beforeS, v: (on ? 210_000 : 245_000) + noise },
    { n: "cylinder-temperature", u: "Cel", t: beforeS, v: 18 },
    { n: "arc", t: beforeS, vb: on || s > pastS + 8 },
  ];
}

/** A station of our own whose node sees the arc: gas is off, and the arc is what the test says. */
async function weldingWithoutGas(): Promise<{ id: string; stop: () => Promise<void> }> {
  const { url, brokerUrl } = shop.gateway;
  const model = (await viewOf(`${site}.pipe-purge`)).description;
  const { virtual: _, ...document }: StationDocument = {
    ...model,
    station: "stick",
    name: "Stick bench",
    node: "n-stick",
  };
  const answer = await fetch(`${url}/api/v1/stations/${site}.stick`, {
    method: "PUT",
    headers: { "content-type": "application/json", "if-none-match": "*" },
    body: JSON.stringify(document),
  });
  expect(answer.status, await answer.text()).toBe(201);
  const client = await connectAsync(brokerUrl);
  const topic = `leeward/v1/${site}/n-stick/samples`;
  let seq = 0;
  const send = (endS: number, seconds: number) => {
    seq++;
    const records = Array.from({ length: seconds }, (_, k) =>
      recordsAt(endS - startS, k - seconds + 1),
    );
    const pack = [
      { bn: `${site}/n-stick:`, bt: endS, n: "boot", v: 1 },
      { n: "seq", v: seq },
      ...records.flat(),
    ];
    return client.publishAsync(topic, JSON.stringify(pack), { qos: 1 });
  };
  // What the node kept while it welded with gas; from now on the gas is off.
  for (let at = 10; at <= pastS; at += 10) await send(startS + at, 10);
  const timer = setInterval(() => void send(Date.now() / 1000, 1), 1000);
  return {
    id: `${site}.stick`,
    stop: async () => {
      clearInterval(timer);
      await client.endAsync(true);
    },
  };
}

test("an arc without gas rings; two taps declare that the job wants none, one ends that", async () => {
  const { id, stop } = await weldingWithoutGas();
  const context = await freshContext(shop.browser, "phone", "light");
  const page = await context.newPage();
  try {
    await page.goto(`${shop.gateway.url}/#/station/${id}`);
    const sentence = page.locator("[data-field=sentence]");
    await sentence.getByText("Welding without gas").waitFor({ timeout: 60_000 });
    await keep(page, "arc-without-gas");

    let taps = 0;
    const tap = async (name: string) => {
      taps++;
      await page.getByRole("button", { name, exact: true }).click();
    };
    await tap("What I weld now");
    const dialog = page.getByRole("dialog");
    await dialog.waitFor();
    await keepPicture(page, `${artefacts}job-dialog.png`);
    await tap("No gas wanted (stick, gouging, gasless wire)");
    expect(taps).toBe(2);
    await dialog.getByRole("status").waitFor({ timeout: 15_000 });
    await keepPicture(page, `${artefacts}job-told.png`);
    await dialog.getByRole("button", { name: "Close" }).click();

    await expect.poll(() => conditions(id), { timeout: 20_000 }).not.toContain("arc-without-gas");
    await page
      .locator("[data-field=job]")
      .getByText(/^No gas wanted, since/)
      .waitFor();
    await expect
      .poll(() => sentence.textContent(), { timeout: 15_000 })
      .not.toContain("Welding without gas");
    // The arc goes on burning all the while.
    await page.waitForTimeout(6000);
    expect((await viewOf(id)).estimate?.told?.job?.gasless).toBe(true);
    expect(await conditions(id)).not.toContain("arc-without-gas");
    await keep(page, "gasless-job");

    // Who declared that no gas was wanted, and when, stays in the journal.
    const journal = (await (await fetch(`${shop.gateway.url}/api/v1/journal`)).json()) as {
      entries: { kind: string; station: string; detail: { job?: { gasless?: boolean } } }[];
    };
    expect(journal.entries).toContainEqual(
      expect.objectContaining({
        kind: "person-job",
        station: expect.stringContaining("stick"),
        detail: { job: expect.objectContaining({ gasless: true }) },
      }),
    );

    await page.locator(".told").getByRole("button", { name: "Job done" }).click();
    await sentence.getByText("Welding without gas").waitFor({ timeout: 20_000 });
  } finally {
    await stop();
    await context.close();
  }
}, 240_000);

test("a purge that looked forgotten is declared, followed by its volumes, and ended", async () => {
  const id = `${site}.pipe-purge`;
  // Open for forty minutes where ten are usual, by the shop's own plant and firmware.
  await expect.poll(() => conditions(id), { timeout: 60_000 }).toContain("gas-left-on");
  const context = await freshContext(shop.browser, "phone", "light");
  const page = await context.newPage();
  await page.goto(`${shop.gateway.url}/#/station/${id}`);
  await page.getByRole("button", { name: "Purge", exact: true }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByText("An oxygen meter decides").waitFor();
  // 50 mm and 1.5 m of pipe: 2.945 L a volume, a quarter of a minute at 10 L/min.
  await dialog.getByLabel("Pipe: bore, mm", { exact: true }).fill("50");
  await dialog.getByLabel("Dammed length, m", { exact: true }).fill("1.5");
  await dialog.getByLabel("Volumes to pass", { exact: true }).fill("3");
  await keepPicture(page, `${artefacts}purge-dialog.png`);
  await dialog.getByRole("button", { name: "Start the purge" }).click();
  await dialog.getByRole("status").waitFor({ timeout: 15_000 });
  await dialog.getByRole("button", { name: "Close" }).click();

  const line = page.locator("[data-field=purge]");
  await line.getByText(/^Purge\. \d\.\d of 3 volumes through; keep purging\.$/).waitFor();
  // Nobody is told to close what was declared.
  await expect.poll(() => conditions(id), { timeout: 20_000 }).not.toContain("gas-left-on");
  await expect
    .poll(() => page.locator(".told progress").evaluate((one: HTMLProgressElement) => one.value), {
      timeout: 30_000,
    })
    .toBeGreaterThan(0.3);
  await keep(page, "purge-going");

  await line.getByText(/^Purge\. \d\.\d volumes through; measure the oxygen/).waitFor({
    timeout: 90_000,
  });
  await keep(page, "purge-through");
  const estimate = (await viewOf(id)).estimate;
  const purge = estimate?.told?.purge;
  if (!estimate || !purge?.volumesPassed) throw new Error("the purge is not followed");
  // What passed is the true flow through the pipe's volume: pi/4 d2 L, exact by definition.
  const volumeL = (Math.PI / 4) * 0.5 ** 2 * 15;
  const wanted = ((estimate.flow.lpm ?? 0) * (estimate.t - purge.since)) / 60 / volumeL;
  expect(Math.abs(purge.volumesPassed / wanted - 1)).toBeLessThan(0.1);

  await page.getByRole("button", { name: "End the purge" }).click();
  await line.waitFor({ state: "detached", timeout: 20_000 });
  // Ended, and gas still flows: it counts as left on again.
  await expect.poll(() => conditions(id), { timeout: 60_000 }).toContain("gas-left-on");

  // The same by the oxygen wanted: ln(209 460 ppm / 50 ppm) = 8.3 volumes, well mixed.
  await page.getByRole("button", { name: "Purge", exact: true }).click();
  await dialog.getByRole("radio", { name: "By oxygen wanted" }).check();
  await dialog.getByLabel("Oxygen wanted, ppm", { exact: true }).fill("50");
  await dialog.getByText("8.3 volumes if all is well mixed").waitFor();
  await keepPicture(page, `${artefacts}purge-by-oxygen.png`);
  await dialog.getByRole("button", { name: "Start the purge" }).click();
  await dialog.getByRole("status").waitFor({ timeout: 15_000 });
  await dialog.getByRole("button", { name: "Close" }).click();
  await line.getByText(/^Purge\. \d\.\d of 8\.3 volumes through; keep purging\.$/).waitFor();
  await context.close();
}, 300_000);
