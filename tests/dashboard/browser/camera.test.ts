import { mkdir, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { cardOf, writeCameraPicture } from "./camera-picture.ts";
import type { RunningGateway } from "./gateway-process.ts";
import {
  artefacts,
  keepPicture,
  launchBrowser,
  sideways,
  sizes,
  violations,
} from "./page-checks.ts";
import { sharedShop } from "./shop-in-browser.ts";

// Codes are read through the browser's own camera path; only the lens is a file.

const pictures = `${artefacts}camera/`;
let gateway: RunningGateway;
let folder = "";

beforeAll(async () => {
  await mkdir(pictures, { recursive: true });
  folder = await mkdtemp(join(tmpdir(), "leeward-camera-"));
  gateway = await sharedShop();
}, 300_000);

afterAll(async () => {
  await rm(folder, { recursive: true, force: true });
}, 30_000);

/** A phone whose camera sees a card with this text. */
async function withCamera(
  text: string,
  hash: string,
  use: (page: Page) => Promise<void>,
  allowed = true,
): Promise<void> {
  const file = join(folder, "camera.y4m");
  await writeCameraPicture(file, cardOf(text));
  const browser = await launchBrowser([
    "--use-fake-device-for-media-stream",
    `--use-file-for-fake-video-capture=${file}`,
  ]);
  try {
    const context = await browser.newContext({
      viewport: sizes.phone,
      locale: "en-GB",
      reducedMotion: "reduce",
      serviceWorkers: "block",
      permissions: allowed ? ["camera"] : [],
    });
    const page = await context.newPage();
    await page.goto(`${gateway.url}/${hash}`);
    await use(page);
  } finally {
    await browser.close();
  }
}

/** Tracks of the camera that still run, as the page asked for them. */
async function watchCamera(page: Page): Promise<() => Promise<number>> {
  await page.evaluate(() => {
    const media = navigator.mediaDevices;
    const ask = media.getUserMedia.bind(media);
    const tracks: MediaStreamTrack[] = [];
    Object.assign(globalThis, { cameraTracks: tracks });
    media.getUserMedia = async (wanted) => {
      const stream = await ask(wanted);
      tracks.push(...stream.getTracks());
      return stream;
    };
  });
  return () =>
    page.evaluate(
      () =>
        (globalThis as unknown as { cameraTracks: MediaStreamTrack[] }).cameraTracks.filter(
          (track) => track.readyState === "live",
        ).length,
    );
}

describe("the camera reads", () => {
  test("a node's code in guided set-up, and is let go", async () => {
    await withCamera("boatyard/n-42", "#/setup/new", async (page) => {
      const running = await watchCamera(page);
      await page.getByRole("button", { name: "Scan its code" }).click();
      await expect
        .poll(() => page.locator("#setup-node-code").inputValue(), { timeout: 30_000 })
        .toBe("boatyard/n-42");
      expect(await page.locator("#setup-node-problem").count()).toBe(0);
      expect(await page.locator(".setup-scan").count()).toBe(0);
      await expect.poll(running).toBe(0);
    });
  }, 90_000);

  test("a station's own label there, and says that it is no node's", async () => {
    const label = `${gateway.url}/#/station/boatyard.hull-bay`;
    await withCamera(label, "#/setup/new", async (page) => {
      await page.getByRole("button", { name: "Scan its code" }).click();
      await page.locator("#setup-node-problem").waitFor({ timeout: 30_000 });
      expect(await page.locator("#setup-node-problem").textContent()).toContain("no node's code");
    });
  }, 90_000);

  test("a job's code on Station: procedure, job and welder", async () => {
    await withCamera("J:4711 W:Anna", "#/station/boatyard.hull-bay", async (page) => {
      await page.getByRole("button", { name: "What I weld now" }).click();
      await page.getByRole("button", { name: "Scan", exact: true }).click();
      const dialog = page.getByRole("dialog");
      await expect
        .poll(() => dialog.getByLabel("Job number").inputValue(), { timeout: 30_000 })
        .toBe("4711");
      expect(await dialog.getByLabel("Welder").inputValue()).toBe("Anna");
    });
  }, 90_000);
});

test("while it looks, the picture is shown, and it can be stopped", async () => {
  // A card too full for this picture: nothing is read, so that the camera stays on.
  await withCamera("-".repeat(1500), "#/setup/new", async (page) => {
    const running = await watchCamera(page);
    await page.getByRole("button", { name: "Scan its code" }).click();
    await page.waitForFunction(() => (document.querySelector("video")?.videoWidth ?? 0) > 0);
    await page.waitForTimeout(1500);
    expect(await running()).toBe(1);
    expect(await sideways(page)).toBe(0);
    expect(await violations(page)).toEqual([]);
    await page.locator("video").scrollIntoViewIfNeeded();
    await keepPicture(page, `${pictures}looking.png`);
    await page.getByRole("button", { name: "Stop the camera" }).click();
    await expect.poll(running).toBe(0);
    expect(await page.locator("video").count()).toBe(0);
  });
}, 90_000);

test("a camera that is refused is told, and the code can be typed", async () => {
  await withCamera(
    "boatyard/n-42",
    "#/setup/new",
    async (page) => {
      await page.getByRole("button", { name: "Scan its code" }).click();
      await page.getByText("The camera cannot be used here: type the code.").waitFor();
      await page.locator("#setup-node-code").fill("n-43");
      expect(await page.locator("#setup-node-problem").count()).toBe(0);
    },
    false,
  );
}, 90_000);
