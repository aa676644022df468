import type { History } from "@leeward/shared-core/api/stations.ts";
import type { Page, Response } from "playwright-core";
import { expect, test } from "vitest";
import { yearStation } from "../../bench/dashboard/shop.ts";
import { sleep } from "./gateway-process.ts";
import { sharedYear, shopInBrowser } from "./shop-in-browser.ts";
import { lentWindow } from "./windows.ts";

const shop = shopInBrowser(sharedYear);

interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** A week in view; the plots and where the first of them stands. */
async function open(width: number, touch = false): Promise<{ page: Page; box: Box }> {
  const context = await lentWindow(shop.browser, {
    viewport: { width, height: 1000 },
    locale: "en-GB",
    reducedMotion: "reduce",
    colorScheme: "light",
    serviceWorkers: "block",
    hasTouch: touch,
  });
  const page = await context.newPage();
  await page.goto(`${shop.gateway.url}/#/station/${yearStation}`);
  await page.waitForSelector(".uplot");
  // What lies beside the week is fetched once the week itself is drawn.
  const beside = page.waitForResponse(isLongerThanAWeek, { timeout: 60_000 });
  await page.getByRole("button", { name: "1 week" }).click();
  await page.waitForSelector(".chart[data-span='1w']");
  await page.locator(".chart-panel").last().scrollIntoViewIfNeeded();
  const box = await page.locator(".chart-plot").first().boundingBox();
  if (!box) throw new Error("no chart");
  await (await beside).finished();
  await drawn(page);
  return { page, box };
}

function isLongerThanAWeek(response: Response): boolean {
  const { pathname, searchParams } = new URL(response.url());
  const lengthS = Number(searchParams.get("to")) - Number(searchParams.get("from"));
  return pathname.endsWith("/history") && lengthS > 1.1 * 7 * 86_400;
}

/** What came last is in the picture: by the page's own clock, which a busy machine holds up too. */
const drawn = (page: Page) =>
  page.evaluate(async () => {
    await new Promise((resolve) => setTimeout(resolve, 300));
    await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)));
  });

/** What one panel shows at the cursor: its figure, and the value at which its line is painted there. */
interface Seen {
  cursorX: number;
  said: number;
  painted: { low: number; high: number };
}

/** The cylinder's panel: what is said of the moment under the cursor, and what the picture has there. */
function cylinderAtCursor(page: Page): Promise<Seen> {
  return page.evaluate(() => {
    const panel = document.querySelectorAll(".chart-panel")[1]!;
    const view = panel.querySelector(".chart-plot")!.getBoundingClientRect();
    const cursor = panel.querySelector(".u-cursor-x")!.getBoundingClientRect();
    const canvas = panel.querySelector("canvas")!;
    const shown = canvas.getBoundingClientRect();
    const ticks = [...panel.querySelectorAll<HTMLElement>(".chart-scale span")].map((span) => ({
      value: Number(span.textContent),
      y: Number.parseFloat(span.style.top),
    }));
    const [low, high] = [ticks[0]!, ticks.at(-1)!];
    const scaleX = canvas.width / shown.width;
    const scaleY = canvas.height / shown.height;
    const column = Math.round((cursor.right - shown.left) * scaleX);
    const pixels = canvas.getContext("2d")!.getImageData(column - 1, 0, 3, canvas.height).data;
    const rows: number[] = [];
    for (let row = 0; row < canvas.height; row++) {
      for (let k = 0; k < 3; k++) {
        // Of all that is painted only the line is dark and opaque.
        const at = (row * 3 + k) * 4;
        if (pixels[at + 3]! > 200 && pixels[at]! < 140) rows.push(row / scaleY);
      }
    }
    const value = (y: number) =>
      low.value + ((y - low.y) / (high.y - low.y)) * (high.value - low.value);
    return {
      cursorX: cursor.right - view.left,
      said: Number(panel.querySelector(".chart-reading")!.textContent),
      painted: { low: value(Math.max(...rows)), high: value(Math.min(...rows)) },
    };
  });
}

const momentOf = async (page: Page) =>
  (await page.locator(".chart-reading").first().textContent())?.split(": ")[0];

/** The figure that is said is painted under the cursor, within the line's thickness and a step. */
function expectAgreement({ said, painted }: Seen): void {
  expect(said).toBeGreaterThan(0);
  expect(painted.low - 8).toBeLessThanOrEqual(said);
  expect(painted.high + 8).toBeGreaterThanOrEqual(said);
}

test("dragged, the picture, the cursor and its figures stay with one moment under the pointer", async () => {
  const { page, box } = await open(1280);
  const y = box.y + 40;
  const from = box.x + box.width * 0.3;
  await page.mouse.move(from - 5, y);
  await page.mouse.move(from, y);
  await expect.poll(() => momentOf(page)).toMatch(/^at /);
  const moment = await momentOf(page);
  const before = await cylinderAtCursor(page);
  expectAgreement(before);
  await page.mouse.down();
  for (let step = 1; step <= 30; step++) {
    await page.mouse.move(from + step * 12, y);
    await sleep(20);
    if (step % 10 !== 0) continue;
    // On the way, not only at rest.
    const moving = await cylinderAtCursor(page);
    expect(moving.said).toBe(before.said);
    expect(Math.abs(moving.cursorX - before.cursorX - step * 12)).toBeLessThan(26);
    expectAgreement(moving);
  }
  await page.mouse.up();
  await sleep(1200);
  const after = await cylinderAtCursor(page);
  expect(await momentOf(page)).toBe(moment);
  expect(Math.abs(after.cursorX - before.cursorX - 360)).toBeLessThan(2);
  expect(after.said).toBe(before.said);
  expectAgreement(after);
  // A new place has a new moment and its own figure.
  await page.mouse.move(from - 100, y);
  await expect.poll(() => momentOf(page)).not.toBe(moment);
  expectAgreement(await cylinderAtCursor(page));
  await page.context().close();
}, 60_000);

test("released after a rest, on the very edge between two moments, it stays with the one that was dragged", async () => {
  const { page, box } = await open(1280);
  const y = box.y + 40;
  const at = async (x: number) => {
    await page.mouse.move(x, y);
    await sleep(50);
    return momentOf(page);
  };
  for (const place of [0.3, 0.35, 0.4]) {
    // The first twentieth of a pixel at which the next moment is said: any less is the one before.
    let from = Math.floor(box.x + box.width * place) + 0.5;
    let moment = await at(from);
    for (let before = moment; moment === before; moment = await at(from)) from += 0.05;
    expect(moment).toMatch(/^at /);
    await page.mouse.down();
    await page.mouse.move(from + 60, y, { steps: 5 });
    // A loaded machine or a slow hand: the chart has come to rest before the button is up.
    await sleep(400);
    expect(await momentOf(page)).toBe(moment);
    await page.mouse.up();
    await sleep(400);
    expect(await momentOf(page)).toBe(moment);
    expectAgreement(await cylinderAtCursor(page));
  }
  await page.context().close();
}, 60_000);

test("after keys have moved it, the figures under the mouse are those of the moment that came there", async () => {
  const { page, box } = await open(1280);
  await page.locator(".chart").focus();
  await page.mouse.move(box.x + box.width * 0.6, box.y + 40);
  await expect.poll(() => momentOf(page)).toMatch(/^at /);
  const seen: (string | undefined)[] = [await momentOf(page)];
  for (let press = 0; press < 8; press++) {
    await page.keyboard.press("ArrowLeft");
    await sleep(60);
  }
  await sleep(1200);
  seen.push(await momentOf(page));
  expect(seen[1]).not.toBe(seen[0]);
  const there = await cylinderAtCursor(page);
  expect(Math.abs(there.cursorX - box.width * 0.6)).toBeLessThan(2);
  expectAgreement(there);
  // The same figure as the shop.gateway tells of that moment: 0.8 of a week and 0.4 before now.
  const wantedS = Date.now() / 1000 - 1.2 * 7 * 86_400;
  const response = await fetch(
    `${shop.gateway.url}/api/v1/stations/${yearStation}/history?from=${Math.floor(wantedS - 7200)}&to=${Math.ceil(wantedS + 7200)}&points=20`,
  );
  const { series } = (await response.json()) as History;
  const bars = (series["cylinder-pressure"]?.mean ?? []).flatMap((pa) => (pa ? [pa / 1e5] : []));
  expect(there.said).toBeGreaterThanOrEqual(Math.floor(Math.min(...bars)) - 1);
  expect(there.said).toBeLessThanOrEqual(Math.ceil(Math.max(...bars)) + 1);
  await page.context().close();
}, 60_000);

test("every time under the axis stands where the cursor says that time is, before and after a pan", async () => {
  const { page, box } = await open(1280);
  for (const pan of [0, 230]) {
    if (pan > 0) {
      await page.mouse.move(box.x + 200, box.y + 40);
      await page.mouse.down();
      await page.mouse.move(box.x + 200 + pan, box.y + 40, { steps: 20 });
      await page.mouse.up();
      await sleep(400);
    }
    const times = await page.evaluate(() =>
      [...document.querySelector(".chart-times")!.querySelectorAll("span")]
        .filter((span) => span.style.visibility === "visible")
        .map((span) => {
          const { left, right } = span.getBoundingClientRect();
          return { text: span.textContent ?? "", x: (left + right) / 2 };
        }),
    );
    expect(times.length).toBeGreaterThan(4);
    for (const { text, x } of times.slice(1, -1)) {
      expect(text).toMatch(/^\w{3} \d+$/);
      await page.mouse.move(x, box.y + 40);
      // Midnight, within the two steps of 17 min beside it: of this day or of the one before.
      await expect.poll(() => momentOf(page)).toMatch(/(00:[0-2]\d|23:[345]\d)$/);
    }
  }
  await page.context().close();
}, 60_000);

test("a finger drags it, a tap says what was there, and the page never scrolls sideways", async () => {
  const { page, box } = await open(390, true);
  const session = await page.context().newCDPSession(page);
  const y = box.y + 60;
  const touch = (type: "touchStart" | "touchMove" | "touchEnd", x?: number) =>
    session.send("Input.dispatchTouchEvent", {
      type,
      touchPoints: x === undefined ? [] : [{ x, y, id: 1 }],
    });
  const heading = () => page.locator(".history-window").textContent();
  const before = await heading();
  await touch("touchStart", box.x + 20);
  for (let step = 1; step <= 12; step++) await touch("touchMove", box.x + 20 + step * 12);
  await touch("touchEnd");
  await expect.poll(heading).not.toBe(before);
  await sleep(800);
  await page.touchscreen.tap(box.x + box.width / 2, y);
  await expect.poll(() => momentOf(page)).toMatch(/^at /);
  expectAgreement(await cylinderAtCursor(page));
  // Nothing of it is cut off.
  const reading = page.locator(".chart-reading").first();
  expect(await reading.evaluate((one) => one.scrollWidth - one.clientWidth)).toBe(0);
  const wide = await page.evaluate(() => [
    document.documentElement.scrollWidth,
    document.documentElement.clientWidth,
  ]);
  expect(wide[0]).toBe(wide[1]);
  await page.context().close();
}, 60_000);

test("pinching in stretches the picture about the fingers and then draws it anew", async () => {
  const { page, box } = await open(1280);
  const y = box.y + 40;
  await page.mouse.move(box.x + box.width * 0.5, y);
  await page.keyboard.down("Control");
  for (let turn = 0; turn < 5; turn++) {
    await page.mouse.wheel(0, -60);
    await sleep(30);
  }
  await page.keyboard.up("Control");
  const stretches = () =>
    page.evaluate(() =>
      [...document.querySelectorAll<HTMLElement>(".chart-plot .chart-strip")].map(
        (strip) => /scaleX\((.+)\)/.exec(strip.style.transform)?.[1],
      ),
    );
  await expect.poll(stretches).toEqual(["1", "1", "1"]);
  expectAgreement(await cylinderAtCursor(page));
  await page.context().close();
}, 60_000);

/** Colours painted on a panel's canvas, opaque ones only, as `r,g,b`. */
function paintedColours(page: Page, panel: number): Promise<string[]> {
  return page.evaluate((index) => {
    const canvas = document.querySelectorAll(".chart-panel")[index]!.querySelector("canvas")!;
    const { data } = canvas.getContext("2d")!.getImageData(0, 0, canvas.width, canvas.height);
    const found = new Set<string>();
    for (let k = 0; k < data.length; k += 4) {
      if (data[k + 3] === 255) found.add(`${data[k]},${data[k + 1]},${data[k + 2]}`);
    }
    return [...found];
  }, panel);
}

/** A token of the look in use as `r,g,b`. */
function tokenColour(page: Page, name: string): Promise<string> {
  return page.evaluate((token) => {
    const hex = getComputedStyle(document.documentElement).getPropertyValue(`--${token}`).trim();
    return [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16)).join(",");
  }, name);
}

test("the chart takes on new colours when the device's scheme or one's own choice changes", async () => {
  const { page } = await open(1280);
  const lines = ["ink", "gas-line", "gas-line"];
  const expectInUse = async () => {
    for (const [panel, token] of lines.entries()) {
      const wanted = await tokenColour(page, token);
      await expect.poll(() => paintedColours(page, panel)).toContain(wanted);
    }
  };
  await expectInUse();
  const light = await tokenColour(page, "gas-line");
  await page.emulateMedia({ colorScheme: "dark" });
  expect(await tokenColour(page, "gas-line")).not.toBe(light);
  await expectInUse();
  expect(await paintedColours(page, 1)).not.toContain(light);
  // One's own choice goes before the device's.
  await page.evaluate(() => {
    document.documentElement.dataset.theme = "light";
  });
  await expectInUse();
  expect(await paintedColours(page, 1)).toContain(light);
  await page.context().close();
}, 60_000);
