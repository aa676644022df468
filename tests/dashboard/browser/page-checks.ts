import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import {
  type Browser,
  type BrowserContext,
  type BrowserServer,
  chromium,
  type Download,
  type Locator,
  type Page,
} from "playwright-core";
import { lentWindow } from "./windows.ts";

const axeSource = readFileSync(
  createRequire(import.meta.url).resolve("axe-core/axe.min.js"),
  "utf8",
);

export const artefacts = new URL("../../../artefacts/dashboard/", import.meta.url).pathname;

export const sizes = {
  phone: { width: 390, height: 844 },
  laptop: { width: 1280, height: 800 },
  wall: { width: 1920, height: 1080 },
} as const;
export type Size = keyof typeof sizes;
export const schemes = ["light", "dark"] as const;
export type Scheme = (typeof schemes)[number];

export interface Look {
  size: Size;
  scheme: Scheme;
}

const sizeNames = Object.keys(sizes) as Size[];

/** Every size in light and dark. */
export const allLooks: Look[] = sizeNames.flatMap((size) =>
  schemes.map((scheme) => ({ size, scheme })),
);

/** `npm run looks` sees every screen in all of them, and keeps pictures. */
export const everyLook = process.env.LOOKS === "all";

/**
 * True where this run sees a screen in a look: in all six with `npm run looks`, in three with `npm test`,
 * so that each size and each scheme is among them. A screen of an odd turn has the three that one of an
 * even turn has not.
 */
export const isSeenIn = ({ size, scheme }: Look, turn: number): boolean =>
  everyLook || (sizeNames.indexOf(size) + schemes.indexOf(scheme) + turn) % 2 === 0;

/** The looks in which this run sees a screen. */
export const looksOf = (turn: number): Look[] => allLooks.filter((look) => isSeenIn(look, turn));

/** Keeps a picture for people to look at, with `npm run looks`: no test reads one, and each costs as much as axe-core. */
export async function keepPicture(
  of: Page | Locator,
  path: string,
  fullPage = false,
): Promise<void> {
  if (!everyLook) return;
  await ("goto" in of ? of.screenshot({ path, fullPage }) : of.screenshot({ path }));
}

/**
 * Each window would bring along pages of Chromium's own for an address bar that nobody sees, in processes
 * of their own: more work than the page under test. The other names are those that Playwright switches
 * off and that matter here, since this list replaces its own.
 */
const switchedOff = [
  ...["WebUIOmniboxPopup", "WebUIOmniboxAimPopup", "PreloadTopChromeWebUI"],
  "SpareRendererForSitePerProcess",
  ...["PaintHolding", "HttpsUpgrades", "HttpsFirstBalancedModeAutoEnable", "OptimizationHints"],
  ...["ThirdPartyStoragePartitioning", "DestroyProfileOnBrowserClose", "MediaRouter"],
  ...["AvoidUnnecessaryBeforeUnloadCheckSync", "NetworkTimeServiceQuerying", "PreconnectToSearch"],
  ...[
    "AvoidCorsURLLoaderRestartOnRedirect",
    "TcpPortRandomizationWin",
    "LensOverlay",
    "AimEnabled",
  ],
];

const chromiumOf = (extra: readonly string[]) => ({
  executablePath: "/usr/bin/chromium",
  args: [
    ...["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"],
    ...["--disable-component-update", "--disable-sync"],
    `--disable-features=${switchedOff.join(",")}`,
    ...extra,
  ],
});

/** Every size once, for what a screen can hold besides; the screens themselves are seen in all looks. */
export const fewLooks = [
  { size: "phone", scheme: "light" },
  { size: "laptop", scheme: "dark" },
  { size: "wall", scheme: "light" },
] as const;

/** The system's Chromium for one file alone; `extra` are further switches of it. */
export const launchBrowser = (extra: readonly string[] = []): Promise<Browser> =>
  chromium.launch(chromiumOf(extra));

/** The system's Chromium, for files to connect to. */
export const serveBrowser = (): Promise<BrowserServer> => chromium.launchServer(chromiumOf([]));

/** A browser window of its own, with nothing remembered; one that keeps the page's files if asked. */
export function freshContext(
  browser: Browser,
  size: Size,
  scheme: Scheme,
  keepsFiles = false,
  locale = "en-GB",
): Promise<BrowserContext> {
  return lentWindow(browser, {
    viewport: sizes[size],
    colorScheme: scheme,
    locale,
    reducedMotion: "reduce",
    serviceWorkers: keepsFiles ? "allow" : "block",
    acceptDownloads: true,
  });
}

/** What axe-core finds against WCAG 2.2 AA and its best practices. */
export async function violations(page: Page): Promise<string[]> {
  // By the debugger, since the page's own policy refuses injected scripts; half a megabyte, once a page.
  if (!(await page.evaluate(() => "axe" in window))) await page.evaluate(axeSource);
  return page.evaluate(async () => {
    // What a page shows first, or just after its colours have changed, is not yet what people see of it.
    // A page behind another draws no frame.
    await document.fonts.ready;
    const drawn = new Promise((resolve) =>
      requestAnimationFrame(() => requestAnimationFrame(resolve)),
    );
    await Promise.race([drawn, new Promise((resolve) => setTimeout(resolve, 500))]);
    await new Promise((resolve) => setTimeout(resolve, 100));
    const axe = (
      window as unknown as {
        axe: {
          run(
            options: object,
          ): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }>;
        };
      }
    ).axe;
    // Only what fails is told in full, which spares the long list of all that is well.
    return (await axe.run({ resultTypes: ["violations"] })).violations.map(
      (one) => `${one.id}: ${one.nodes.map((node) => node.html.slice(0, 160)).join(" | ")}`,
    );
  });
}

/** Pixels by which the page is wider than its window. */
export function sideways(page: Page): Promise<number> {
  return page.evaluate(
    () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
  );
}

/** The bytes of a file that the page saves; the browser may run elsewhere and has no path to give. */
export async function saved(download: Download): Promise<Buffer> {
  const chunks: Buffer[] = [];
  for await (const chunk of await download.createReadStream()) chunks.push(Buffer.from(chunk));
  return Buffer.concat(chunks);
}
