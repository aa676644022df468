import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { artefacts, everyLook, keepPicture } from "./page-checks.ts";
import { sharedShop, shopInBrowser } from "./shop-in-browser.ts";
import { lentWindow } from "./windows.ts";

const shop = shopInBrowser(sharedShop);

/** The alarm of the whole shop as the shop.gateway tells it: two minutes of refusals would come first. */
const nobodyReachable = {
  id: "site-boatyard-nobody-reachable",
  condition: "nobody-reachable",
  priority: "high",
  active: true,
  state: "unacknowledged",
  since: 1_750_000_000,
  title: "Nobody can be reached",
  advice: "Watch the screen; restore the connection, or set up a contact and test it.",
  said: { title: [{ say: "nobody-reachable" }], advice: [{ say: "watch-the-screen" }] },
};

/** Opens the wall at a size and in a language, with or without an alarm of the whole shop. */
async function openWall(
  screen: { width: number; height: number },
  locale: string,
  siteAlarm: boolean,
): Promise<Page> {
  const context = await lentWindow(shop.browser, {
    viewport: screen,
    locale,
    reducedMotion: "reduce",
    serviceWorkers: "block",
  });
  const page = await context.newPage();
  if (siteAlarm) {
    await context.route("**/api/v1/stations", async (route) => {
      const list = await (await route.fetch()).json();
      await route.fulfill({ json: { ...list, siteAlarms: [nobodyReachable] } });
    });
  }
  await page.goto(`${shop.gateway.url}/#/wall`);
  await page.waitForSelector(".wall-tiles .tile[data-t]");
  if (siteAlarm) await page.waitForSelector(".site-alarm");
  await page.evaluate(() => document.fonts.ready);
  return page;
}

/** Lines of text that are cut by what holds them, or that touch a line of another element. */
function badLines(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const bad: string[] = [];
    for (const box of document.querySelectorAll<HTMLElement>(".tile, .site-alarm, .wall-header")) {
      const name = box.querySelector(".tile-name")?.textContent ?? box.className;
      const lines: { text: string; of: Element; rect: DOMRect }[] = [];
      const walker = document.createTreeWalker(box, NodeFilter.SHOW_TEXT);
      for (let node = walker.nextNode(); node; node = walker.nextNode()) {
        const of = node.parentElement;
        const text = node.textContent?.trim() ?? "";
        if (!of || text === "" || of.closest(".visually-hidden, title, desc")) continue;
        const range = document.createRange();
        range.selectNodeContents(node);
        for (const full of range.getClientRects()) {
          if (full.width === 0) continue;
          // From about the top of a capital to the line that it stands on.
          const rect = new DOMRect(
            full.x,
            full.y + full.height * 0.22,
            full.width,
            full.height * 0.56,
          );
          lines.push({ text, of, rect });
          for (let holder: Element | null = of; holder; holder = holder.parentElement) {
            const { overflowX, overflowY } = getComputedStyle(holder);
            const edge = holder.getBoundingClientRect();
            const cutY =
              overflowY !== "visible" && (rect.bottom > edge.bottom + 1 || rect.top < edge.top - 1);
            const cutX =
              overflowX !== "visible" && (full.right > edge.right + 1 || full.left < edge.left - 1);
            if (cutX || cutY) bad.push(`${name}: "${text}" is cut by ${holder.className}`);
            if (holder === document.body) break;
          }
          if (rect.bottom > innerHeight) bad.push(`${name}: "${text}" is below the screen`);
        }
      }
      lines.forEach((a, k) => {
        for (const b of lines.slice(k + 1)) {
          if (a.of === b.of || a.of.contains(b.of) || b.of.contains(a.of)) continue;
          const wide = Math.min(a.rect.right, b.rect.right) - Math.max(a.rect.left, b.rect.left);
          const high = Math.min(a.rect.bottom, b.rect.bottom) - Math.max(a.rect.top, b.rect.top);
          if (wide > 1 && high > 1) bad.push(`${name}: "${a.text}" over "${b.text}"`);
        }
      });
    }
    return [...new Set(bad)];
  });
}

test("the check sees a line that is cut and one that lies on another", async () => {
  const page = await openWall({ width: 1920, height: 1080 }, "en-GB", false);
  await page.addStyleTag({
    content: ".tile-time { margin-top: -1.2em; } .cylinder { display: none; }",
  });
  expect((await badLines(page)).join()).toContain(" over ");
  await page.addStyleTag({ content: ".wall-tiles .tile-body { max-height: 2em; }" });
  expect((await badLines(page)).join()).toContain("is cut by");
  await page.context().close();
}, 60_000);

describe.each([
  { width: 1920, height: 1080 },
  { width: 3840, height: 2160 },
])("the wall at $width x $height", (screen) => {
  // Either with that alarm or without, and the other way round on the other screen; `npm run looks` all.
  const turn = screen.width === 1920 ? 0 : 1;
  const cases = ["en-GB", "de-DE", "es-MX"].flatMap((locale, k) =>
    [false, true]
      .filter((siteAlarm) => everyLook || (Number(siteAlarm) + k + turn) % 2 === 0)
      .map((siteAlarm) => ({ locale, siteAlarm })),
  );
  test.each(cases)(
    "cuts no line and lays none on another: $locale, alarm of the shop $siteAlarm",
    { tags: ["looks"], timeout: 60_000 },
    async (at) => {
      const page = await openWall(screen, at.locale, at.siteAlarm);
      // Stations change from second to second: several looks.
      for (let look = 0; look < 3; look++) {
        expect(await badLines(page)).toEqual([]);
        await page.waitForTimeout(700);
      }
      const alarm = at.siteAlarm ? "-shop-alarm" : "";
      await keepPicture(
        page,
        `${artefacts}wall-${screen.width}-${at.locale.slice(0, 2)}${alarm}.png`,
      );
      await page.context().close();
    },
  );
});

test("layout is measured when a text changes its length, and not for a figure that changes", async () => {
  const page = await openWall({ width: 1920, height: 1080 }, "en-GB", false);
  const measured = await page.evaluate(async () => {
    let reads = 0;
    const found = Object.getOwnPropertyDescriptor(Element.prototype, "scrollHeight")!;
    Object.defineProperty(Element.prototype, "scrollHeight", {
      ...found,
      get() {
        reads++;
        return found.get!.call(this);
      },
    });
    const frame = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
    // Held still, so that nothing but this test changes a text.
    const tiles = document.querySelector<HTMLElement>(".wall-tiles")!;
    const number = tiles.querySelector(".flow-number")!.firstChild as Text;
    const before = number.data;
    await frame();
    reads = 0;
    for (let k = 0; k < 20; k++) number.data = before.replace(/\d/g, String(k % 10));
    await Promise.resolve();
    const forFigures = reads;
    const sentence = tiles.querySelector(".sentence-text")!;
    sentence.append(" It is longer now.");
    await Promise.resolve();
    return { forFigures, forLength: reads - forFigures };
  });
  expect(measured.forFigures).toBe(0);
  expect(measured.forLength).toBeGreaterThan(0);
  await page.context().close();
}, 60_000);

/** Of the longest sentences that an alarm may have, in the languages of the wall. */
const longest: Record<string, string> = {
  "en-GB":
    "Press gas test and turn the float up to 10.4 L/min. The float may look right: it reads true only at the pressure and gas of its scale, and this line runs at another pressure since the regulator was changed.",
  "de-DE":
    "Das Flaschenventil schließen und den Brenner öffnen, bis die Leitung leer ist; danach den Druckminderer von einem Fachbetrieb prüfen lassen, denn sein Sitz hält den Flaschendruck nicht mehr sicher zurück.",
  "es-MX":
    "Cierre la válvula de la botella y abra la antorcha hasta vaciar la línea; después haga revisar el manorreductor por un taller autorizado, porque su asiento ya no retiene con seguridad la presión.",
};

describe.each([
  { width: 1280, height: 720 },
  { width: 1920, height: 1080 },
])("long names and long sentences at $width x $height", (screen) => {
  test.each(Object.keys(longest))(
    "are read whole: %s",
    async (locale) => {
      const page = await openWall(screen, locale, false);
      const sizes = await page.evaluate(async (sentence) => {
        const size = () => getComputedStyle(document.querySelector(".wall-tiles")!).fontSize;
        const before = size();
        document.querySelectorAll(".tile").forEach((tile, k) => {
          const text = tile.querySelector(".sentence-text")!;
          text.textContent = `${text.textContent} ${sentence}`.slice(0, 330);
          tile.querySelector(".tile-name")!.textContent =
            `Halle ${k}, Längsnaht der Heckwand, Arbeitsplatz an der zweiten Säule`;
        });
        await new Promise(requestAnimationFrame);
        return { before, after: size() };
      }, longest[locale]!);
      expect(await badLines(page)).toEqual([]);
      expect(Number.parseFloat(sizes.after)).toBeLessThanOrEqual(Number.parseFloat(sizes.before));
      // Still of a size to be read: capitals of 10' of arc from 3 m on a screen 1.2 m wide.
      expect(Number.parseFloat(sizes.after)).toBeGreaterThanOrEqual(screen.width / 96 - 0.1);
      await keepPicture(page, `${artefacts}wall-long-${screen.width}-${locale.slice(0, 2)}.png`);
      await page.context().close();
    },
    60_000,
  );
});
