import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { ApiRecord, getList, sleep, startYoung } from "./gateway-process.ts";
import {
  allLooks,
  artefacts,
  everyLook,
  isSeenIn,
  keepPicture,
  type Scheme,
  type Size,
  schemes,
  sizes,
  violations,
} from "./page-checks.ts";
import { shopInBrowser } from "./shop-in-browser.ts";
import { lentWindow } from "./windows.ts";

const shop = shopInBrowser(startYoung);
let record: ApiRecord;
let ids: string[];

beforeAll(async () => {
  record = await ApiRecord.open(shop.gateway.url);
  ids = (await getList(shop.gateway.url)).stations.map((view) => view.id);
}, 300_000);

afterAll(async () => {
  record?.close();
}, 30_000);

async function open(size: Size, scheme: Scheme, hash: string): Promise<Page> {
  const context = await lentWindow(shop.browser, {
    viewport: sizes[size],
    colorScheme: scheme,
    locale: "en-GB",
    reducedMotion: "reduce",
    serviceWorkers: "block",
  });
  const page = await context.newPage();
  await page.goto(`${shop.gateway.url}/${hash}`);
  await page.waitForSelector("[data-t]");
  return page;
}

/** What is on the page at one instant: the texts of every field, with the `t` they belong to. */
interface Shown {
  id: string;
  t: number;
  fields: Record<string, string>;
}

function readPage(page: Page): Promise<Shown[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>("[data-station][data-t]")].map((element) => ({
      id: element.dataset.station ?? "",
      t: Number(element.dataset.t),
      fields: Object.fromEntries(
        [...element.querySelectorAll<HTMLElement>("[data-field]")].map((field) => [
          field.dataset.field ?? "",
          field.textContent ?? "",
        ]),
      ),
    })),
  );
}

// The figures that must stand on the page, worked out here from the API alone.

/** A text such as `26 bar` holds this value, rounded to its last figure; unknown is a dash. */
function expectFigure(
  text: string | undefined,
  value: number | null | undefined,
  decimals: number,
  unit = "",
): void {
  if (value === null || value === undefined) {
    expect(text).toBe("–");
    return;
  }
  const match = /^(-?\d+(?:\.(\d+))?)(?: (.+))?$/.exec(text ?? "");
  expect(match, `${text} for ${value}`).not.toBeNull();
  expect(match?.[2]?.length ?? 0, `decimals of ${text}`).toBe(decimals);
  expect(match?.[3] ?? "").toBe(unit);
  expect(Math.abs(Number(match?.[1]) - value)).toBeLessThanOrEqual(0.5001 * 10 ** -decimals);
}

function expectFlow(text: string | undefined, estimate: Estimate): void {
  if (estimate.mode === "idle") expect(text).toBe("off");
  else if (estimate.mode === "valve-closed") expect(text).toBe("closed");
  else expectFigure(text, estimate.flow.lpm, 1);
}

function expectCylinderPressure(text: string | undefined, estimate: Estimate): void {
  const bar = inBar(estimate.measured?.cylinderPa);
  expectFigure(text, bar, bar !== null && Math.abs(bar) < 9.95 ? 1 : 0, "bar");
}

function inBar(pa: number | null | undefined): number | null {
  return pa === null || pa === undefined ? null : pa / 1e5;
}

function expectVolume(text: string | undefined, litres: number | null | undefined): void {
  const m3 = litres === null || litres === undefined ? null : litres / 1000;
  expectFigure(text, m3, m3 !== null && m3 < 10 ? 2 : 1, "m³");
}

/** Minutes that a text such as `62 min`, `9 h 20` or `53 h` stands for, with its step. */
function minutesOf(text: string): { minutes: number; step: number } | null {
  const min = /^(\d+) min$/.exec(text);
  if (min) return { minutes: Number(min[1]), step: 1 };
  const hours = /^(\d+) h(?: (\d\d))?$/.exec(text);
  if (!hours) return null;
  return {
    minutes: Number(hours[1]) * 60 + Number(hours[2] ?? 0),
    step: hours[2] === undefined ? 60 : 10,
  };
}

function expectTimeLeft(text: string, estimate: Estimate): void {
  const { gasOnMinutes, atTargetMinutes } = estimate.remaining;
  const known = [gasOnMinutes, atTargetMinutes].filter((quantiles) => quantiles.median !== null);
  if (known.length === 0) {
    expect(text).toBe("–");
    return;
  }
  const least = Math.min(...known.map((quantiles) => quantiles.median ?? 0));
  if (least < 1 || text.includes(" – ")) return;
  const shown = minutesOf(text);
  expect(shown, text).not.toBeNull();
  if (!shown) return;
  // Rounded down to its step, never up.
  expect(least - shown.minutes).toBeGreaterThanOrEqual(-1e-9);
  expect(least - shown.minutes).toBeLessThan(shown.step);
}

async function estimateOf(shown: Shown): Promise<Estimate> {
  const until = Date.now() + 5000;
  while (Date.now() < until) {
    const estimate = record.at(shown.id, shown.t);
    if (estimate) return estimate;
    await sleep(100);
  }
  throw new Error(`the API never gave an estimate of ${shown.id} for t = ${shown.t}`);
}

describe("the numbers on the page are those of the API", () => {
  test.each(["phone", "wall"] as const)(
    "Floor, %s",
    async (size) => {
      const page = await open(size, "light", "#/");
      let compared = 0;
      for (let round = 0; round < 4; round++) {
        const tiles = await readPage(page);
        expect(tiles.map((tile) => tile.id).sort()).toEqual([...ids].sort());
        for (const tile of tiles) {
          const estimate = await estimateOf(tile);
          expectFlow(tile.fields.flow, estimate);
          expectCylinderPressure(tile.fields["cylinder-pressure"], estimate);
          expectTimeLeft(tile.fields.left ?? "", estimate);
          const alarm = estimate.alarms[0];
          if (alarm?.title && estimate.alarms.length === 1) {
            expect(tile.fields.sentence).toContain(alarm.title);
          }
          compared++;
        }
        await sleep(1500);
      }
      expect(compared).toBe(4 * ids.length);
      await page.context().close();
    },
    60_000,
  );

  test.each(["phone", "wall"] as const)(
    "Station, %s",
    async (size) => {
      const page = await open(size, "dark", "#/");
      for (const id of ids) {
        await page.goto(`${shop.gateway.url}/#/station/${id}`);
        await page.waitForSelector(`main[data-station="${id}"][data-t]`);
        const [shown] = await readPage(page);
        if (!shown) throw new Error("nothing on the page");
        const estimate = await estimateOf(shown);
        const { fields } = shown;
        expectFlow(fields.flow, estimate);
        expectCylinderPressure(fields["cylinder-pressure"], estimate);
        expectCylinderPressure(fields["cylinder-pressure-measured"], estimate);
        expectFigure(fields["line-pressure"], inBar(estimate.measured?.linePa), 2, "bar");
        expectVolume(fields.content, estimate.content.litres);
        expectVolume(fields.usable, estimate.content.usableLitres);
        expectTimeLeft(fields.left ?? "", estimate);
        if (fields["dial-to"] !== undefined && estimate.dialTo.reading !== null) {
          const dial = estimate.dialTo.reading;
          expect(Math.abs(Number(fields["dial-to"]) - dial)).toBeLessThanOrEqual(
            dial >= 30 ? 0.5 : 0.051,
          );
        }
      }
      await page.context().close();
    },
    90_000,
  );
});

describe("every page is accessible and fits its screen", () => {
  const pages = { floor: "#/", wall: "#/wall", station: "" };

  test.each(allLooks)(
    "$size, $scheme",
    { tags: ["looks"], timeout: 120_000 },
    async ({ size, scheme }) => {
      const page = await open(size, scheme, "#/");
      for (const [turn, [name, hash]] of Object.entries(pages).entries()) {
        if (!isSeenIn({ size, scheme }, turn)) continue;
        await page.goto(`${shop.gateway.url}/${hash === "" ? `#/station/${ids[1]}` : hash}`);
        await page.waitForSelector(name === "station" ? ".uplot" : ".tile[data-t]");
        await keepPicture(page, `${artefacts}${name}-${size}-${scheme}.png`, true);
        expect(await violations(page)).toEqual([]);
        const wider = await page.evaluate(
          () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
        );
        expect(wider, `${name} scrolls sideways`).toBe(0);
      }
      await page.context().close();
    },
  );

  test("the checker sees a fault when there is one", async () => {
    const page = await open("laptop", "light", "#/");
    expect(await violations(page)).toEqual([]);
    await page.evaluate(() => {
      const button = document.createElement("button");
      document.querySelector("main")?.append(button);
    });
    expect((await violations(page)).join()).toContain("button-name");
    await page.context().close();
  }, 30_000);

  test("dialogs, and text at 200 %", async () => {
    const page = await open("phone", "light", `#/station/${ids[1]}`);
    const buttons = page.locator(".actions button");
    const count = await buttons.count();
    expect(count).toBe(6);
    for (let index = 0; index < count; index++) {
      const box = await buttons.nth(index).boundingBox();
      expect(box?.height).toBeGreaterThanOrEqual(64);
      await buttons.nth(index).click();
      await page.waitForSelector("dialog[open]");
      expect(await violations(page)).toEqual([]);
      await page.keyboard.press("Escape");
      await page.waitForSelector("dialog[open]", { state: "detached" });
    }
    await page.addStyleTag({ content: "html { font-size: 200% !important; }" });
    for (const hash of ["#/", ...ids.map((id) => `#/station/${id}`)]) {
      await page.goto(`${shop.gateway.url}/${hash}`);
      await page.waitForSelector("[data-t]");
      const wider = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(wider, hash).toBe(0);
    }
    await page.context().close();
  }, 90_000);

  test("a tile opens by keyboard, and the address leads back", async () => {
    const page = await open("laptop", "light", "#/");
    const first = page.locator(".tile-name a").first();
    await first.focus();
    await page.keyboard.press("Enter");
    await page.waitForSelector("main.station[data-t]");
    expect(page.url()).toContain("#/station/");
    const focused = () => page.evaluate(() => document.activeElement?.id);
    await expect.poll(focused).toBe("content");
    await page.goBack();
    await page.waitForSelector(".tile[data-t]");
    // A page that is fetched first begins with its content all the same.
    await page.getByRole("link", { name: "Rack" }).focus();
    await page.keyboard.press("Enter");
    await page.waitForSelector("main.rack");
    await expect.poll(focused).toBe("content");
    await page.context().close();
  }, 30_000);
});

describe("seen without some or all colours", () => {
  const eyes = ["deuteranopia", "protanopia", "tritanopia", "achromatopsia"] as const;
  const seen = eyes.flatMap((eye, turn) =>
    schemes.map((scheme) => ({ eye, scheme })).filter((_, k) => everyLook || (k + turn) % 2 === 0),
  );
  test.each(seen)(
    "$eye, $scheme: urgency is told by word and shape too",
    { tags: ["looks"], timeout: 60_000 },
    async ({ eye, scheme }) => {
      const page = await open("laptop", scheme, "#/");
      const session = await page.context().newCDPSession(page);
      await session.send("Emulation.setEmulatedVisionDeficiency", { type: eye });
      await keepPicture(page, `${artefacts}floor-${eye}-${scheme}.png`);
      const bars = page.locator(".tile .sentence:not(.sentence-quiet)");
      const shapes = new Map<string, string>();
      for (const bar of await bars.all()) {
        const word = (await bar.locator(".sentence-word").textContent()) ?? "";
        const shape = (await bar.locator(".sign-ground").getAttribute("d")) ?? "";
        expect(["Now", "Soon", "Today"]).toContain(word);
        shapes.set(word, shape);
      }
      expect(shapes.size).toBeGreaterThan(0);
      expect(new Set(shapes.values()).size).toBe(shapes.size);
      await page.goto(`${shop.gateway.url}/#/station/${ids[1]}`);
      await page.waitForSelector(".uplot");
      await keepPicture(page, `${artefacts}station-${eye}-${scheme}.png`);
      await page.context().close();
    },
  );
});

describe("every figure explains itself", () => {
  test("on Station by a tap on the figure, on Floor by one button a tile", async () => {
    const page = await open("phone", "light", `#/station/${ids[1]}`);
    const figures = page.locator(".explained");
    expect(await figures.count()).toBeGreaterThanOrEqual(12);
    for (const index of [0, 1, 2, 3]) {
      await figures.nth(index).click();
      const explained = page.locator("[data-explains]");
      await explained.first().waitFor();
      expect(((await explained.first().textContent()) ?? "").length).toBeGreaterThan(40);
      if (index === 0) expect(await violations(page)).toEqual([]);
      await page.keyboard.press("Escape");
      await page.waitForSelector("dialog[open]", { state: "detached" });
    }
    // Notes under the figures are figures too, and say their unit.
    const bare = await page.locator(".station-top .card-note").evaluateAll((notes) =>
      notes
        .filter((note) => /\d/.test(note.textContent ?? ""))
        .filter((note) => {
          const rest = note.cloneNode(true) as Element;
          for (const told of rest.querySelectorAll(".explained")) told.remove();
          return /\d/.test(rest.textContent ?? "") || !note.querySelector(".explained");
        })
        .map((note) => note.textContent),
    );
    expect(bare).toEqual([]);
    // None is a stop of the keyboard that says nothing.
    expect(await figures.evaluateAll((all) => all.filter((one) => !one.textContent).length)).toBe(
      0,
    );
    expect(await page.locator("[data-field=flow-note]").textContent()).toMatch(
      /needs\s[\d.]+\sto\s[\d.]+\sL\/min$/,
    );
    await page.goto(`${shop.gateway.url}/#/`);
    const how = page.locator(".tile-how");
    expect(await how.count()).toBe(ids.length);
    const box = await how.first().boundingBox();
    expect(box?.height).toBeGreaterThanOrEqual(44);
    await how.first().click();
    await page.locator("[data-explains=left]").waitFor();
    expect(await page.locator("[data-explains]").count()).toBe(6);
    await page.context().close();
  }, 60_000);
});

describe("units of the viewer", () => {
  test("CFH and psi, while the setting keeps the unit of the device", async () => {
    const page = await open("laptop", "light", "#/");
    await page.getByRole("button", { name: /L\/min at/ }).click();
    await page.getByRole("radio", { name: "CFH" }).check();
    await page.getByRole("radio", { name: /70 °F, 14.696 psia/ }).check();
    await page.getByRole("radio", { name: "psi", exact: true }).check();
    await page.getByRole("button", { name: "Done" }).click();
    const tiles = await readPage(page);
    for (const tile of tiles) {
      const estimate = await estimateOf(tile);
      expect(tile.fields["cylinder-pressure"]).toMatch(/ psi$/);
      const lpm = estimate.flow.lpm;
      if (estimate.mode !== "flowing" || lpm === null) continue;
      // 1 L/min = 2.11888 CFH (NIST SP 811); 20 °C to 70 °F adds 0.38 % (ideal gas).
      const cfh = lpm * 2.11888 * (294.261 / 293.15);
      expect(Math.abs(Number(tile.fields.flow) - cfh)).toBeLessThanOrEqual(cfh < 20 ? 0.06 : 0.51);
    }
    await page.context().close();
  }, 30_000);
});

describe("what a person says reaches the gateway", () => {
  test("a reading is sent once and noted", async () => {
    const page = await open("phone", "light", `#/station/${ids[1]}`);
    const answers: number[] = [];
    page.on("response", (response) => {
      if (response.request().method() === "POST") answers.push(response.status());
    });
    await page.locator(".actions button").nth(1).click();
    const dialog = page.getByRole("dialog");
    const send = dialog.getByRole("button", { name: "Send" });
    // Nothing suggests an answer: the field is empty, no mark is chosen, what it should show is not said.
    expect(await dialog.locator("input").inputValue()).toBe("");
    expect(await dialog.locator("[aria-pressed=true]").count()).toBe(0);
    expect(await dialog.getByText("should show").count()).toBe(0);
    expect(await send.isDisabled()).toBe(true);
    const marks = dialog.locator(".scale-marks button");
    for (const mark of await marks.all()) {
      const box = await mark.boundingBox();
      expect(Math.min(box?.width ?? 0, box?.height ?? 0)).toBeGreaterThanOrEqual(64);
    }
    await keepPicture(page, `${artefacts}reading-dialog.png`);
    await marks.nth(4).click();
    await send.click();
    await page.getByText("Noted.").waitFor();
    await dialog.getByText("should show").waitFor();
    await keepPicture(page, `${artefacts}reading-told.png`);
    expect(answers).toEqual([201]);
    await page.context().close();
  }, 30_000);
});
