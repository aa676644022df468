import { readFileSync } from "node:fs";
import { cpus, loadavg } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { type Browser, chromium, type Page } from "playwright-core";
import { newestAssets } from "../../dashboard/former-builds.ts";
import { type RunningGateway, sleep, startGateway } from "../dashboard/browser/gateway-process.ts";
import { describeStations, fillYear, waitLive, weld, yearStation } from "./dashboard/shop.ts";
import { type FrameFigures, traceFrames } from "./dashboard/trace.ts";
import { type YearDrawn, yearDrawn } from "./dashboard/year-drawn.ts";

const stations = 200;
const dist = fileURLToPath(new URL("../../dashboard/dist/", import.meta.url));

/**
 * The dashboard in a real browser against a real gateway with 200 stations that weld: size of its
 * script, time to the first useful view, history query and drawing, main-thread work per frame.
 */
export async function dashboardBench(print: (line: string) => void): Promise<void> {
  print("Dashboard: Chromium without a graphics card, against a gateway on the same machine");
  scriptSizes(print);
  const gateway = await startGateway(240_000, fillYear);
  let stop: (() => Promise<void>) | null = null;
  const browser = await chromium.launch({
    executablePath: "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"],
  });
  try {
    stop = await weld(gateway, await describeStations(gateway, stations));
    await waitLive(gateway, stations - 6);
    await firstView(browser, gateway, print);
    await historyTimes(gateway, print);
    await floorFrames(browser, gateway, print);
    await chartFrames(browser, gateway, print);
  } finally {
    await stop?.();
    await browser.close();
    await gateway.stop();
  }
}

function scriptSizes(print: (line: string) => void): void {
  const files = newestAssets(dist).filter((name) => name.endsWith(".js"));
  const size = (name: string) => gzipSync(readFileSync(join(dist, "assets", name))).length / 1000;
  const html = readFileSync(join(dist, "index.html"), "utf8");
  const first = files.filter((name) => html.includes(name));
  const sum = (names: readonly string[]) => names.reduce((all, name) => all + size(name), 0);
  print(
    `  script: ${sum(first).toFixed(1)} kB gzip before the first view, ${sum(files).toFixed(1)} kB in all`,
  );
}

async function firstView(
  browser: Browser,
  gateway: RunningGateway,
  print: (line: string) => void,
): Promise<void> {
  const times: number[] = [];
  for (let round = 0; round < 5; round++) {
    const page = await openPage(browser);
    const began = performance.now();
    await page.goto(`${gateway.url}/`, { waitUntil: "commit" });
    await page.waitForSelector(".tile[data-fresh=live]");
    times.push(performance.now() - began);
    await page.context().close();
  }
  times.sort((a, b) => a - b);
  print(
    `  first useful view, ${stations} stations, nothing cached: median ${times[2]!.toFixed(0)} ms, worst ${times[4]!.toFixed(0)} ms`,
  );
}

async function historyTimes(gateway: RunningGateway, print: (line: string) => void): Promise<void> {
  const nowS = Math.floor(Date.now() / 1000);
  for (const [name, days] of [
    ["a day", 1],
    ["a month", 30],
    ["a year", 365],
  ] as const) {
    const times: number[] = [];
    let bytes = 0;
    for (let round = 0; round < 11; round++) {
      const began = performance.now();
      const response = await fetch(
        `${gateway.url}/api/v1/stations/${yearStation}/history?from=${nowS - days * 86_400}&to=${nowS}&points=600`,
      );
      bytes = (await response.text()).length;
      times.push(performance.now() - began);
    }
    times.sort((a, b) => a - b);
    print(
      `  history of ${name} from the server, ${stations} stations live: median ${times[5]!.toFixed(0)} ms, worst ${times[10]!.toFixed(0)} ms, ${(bytes / 1000).toFixed(0)} kB`,
    );
  }
}

export async function floorFrames(
  browser: Browser,
  gateway: RunningGateway,
  print: (line: string) => void,
): Promise<void> {
  for (const hash of ["#/", "#/wall"]) {
    const page = await openPage(browser);
    await page.goto(`${gateway.url}/${hash}`);
    await page.waitForSelector(".tile[data-fresh=live]");
    await sleep(4000);
    const session = await page.context().newCDPSession(page);
    const still = await traceFrames(session, async () => {
      await sleep(20_000);
    });
    printFrames(print, `${hash === "#/" ? "Floor" : "wall"}, ${stations} stations live`, still);
    if (hash === "#/") {
      const scrolled = await traceFrames(session, async () => {
        for (let step = 0; step < 60; step++) {
          await page.mouse.wheel(0, 240);
          await sleep(50);
        }
      });
      printFrames(print, "Floor, scrolling through them", scrolled);
    }
    await page.context().close();
  }
}

async function openStation(browser: Browser, gateway: RunningGateway): Promise<Page> {
  const page = await openPage(browser);
  await page.goto(`${gateway.url}/#/station/${yearStation}`);
  await page.waitForSelector(".uplot");
  return page;
}

/** A year drawn, several times over, with where the time went. */
export async function yearTimes(
  browser: Browser,
  gateway: RunningGateway,
  print: (line: string) => void,
): Promise<void> {
  const times: YearDrawn[] = [];
  for (let round = 0; round < 7; round++) {
    const page = await openStation(browser, gateway);
    times.push(await yearDrawn(page));
    await page.context().close();
  }
  times.sort((a, b) => a.all - b.all);
  const told = ({ all, gateway: waited, longestTask }: YearDrawn) =>
    `${all.toFixed(0)} ms (gateway ${waited.toFixed(0)}, longest task ${longestTask.toFixed(0)})`;
  print(
    `  a year of history, from the click until drawn: median ${told(times[3]!)}, worst ${told(times[6]!)}; ` +
      `${cpus().length} cores with a load of ${loadavg()[0]!.toFixed(1)}`,
  );
}

export async function chartFrames(
  browser: Browser,
  gateway: RunningGateway,
  print: (line: string) => void,
): Promise<void> {
  await yearTimes(browser, gateway, print);
  const page = await openStation(browser, gateway);
  await page.getByRole("button", { name: "1 year" }).click();
  await page.waitForSelector(".chart[data-span='1y']");
  const chart = page.locator(".chart-plot").first();
  await chart.scrollIntoViewIfNeeded();
  const box = await chart.boundingBox();
  if (!box) throw new Error("the chart is not on the page");
  const session = await page.context().newCDPSession(page);
  const panned = await traceFrames(session, async () => {
    const y = box.y + box.height / 2;
    for (let turn = 0; turn < 6; turn++) {
      const from = box.x + box.width * (turn % 2 === 0 ? 0.2 : 0.8);
      await page.mouse.move(from, y);
      await page.mouse.down();
      for (let step = 1; step <= 60; step++) {
        await page.mouse.move(from + (turn % 2 === 0 ? 1 : -1) * step * box.width * 0.01, y);
        await sleep(16);
      }
      await page.mouse.up();
    }
  });
  printFrames(print, "panning the year chart", panned);
  await page.context().close();
}

function printFrames(print: (line: string) => void, name: string, f: FrameFigures): void {
  print(
    `  ${name}: work per frame p50 ${f.p50.toFixed(1)}, p95 ${f.p95.toFixed(1)}, p99 ${f.p99.toFixed(1)}, worst ${f.worst.toFixed(1)} ms; ` +
      `longest task ${f.longestTask.toFixed(1)} ms; ${f.frames} frames with work; busy ${(f.busy * 100).toFixed(0)} %`,
  );
  print(`    of each second, ms: ${f.kinds}`);
}

async function openPage(browser: Browser): Promise<Page> {
  const context = await browser.newContext({
    viewport: { width: 1920, height: 1080 },
    locale: "en-GB",
    serviceWorkers: "block",
  });
  return context.newPage();
}
