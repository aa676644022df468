import * as fc from "fast-check";
import { expect, test } from "vitest";
import { fitOf, placeOf, STRIP, stripFor } from "../../../dashboard/display/chart-strip.ts";
import { lengthOf, panned, zoomed } from "../../../dashboard/display/chart-window.ts";

const nowS = 1_790_000_000;
const anyWindow = fc
  .record({
    length: fc.double({ min: 120, max: 366 * 86_400, noNaN: true }),
    back: fc.double({ min: 0, max: 3e8, noNaN: true }),
  })
  .map(({ length, back }) => ({ from: nowS - back - length, to: nowS - back }));

test("a strip drawn for a window serves it, at its scale, and may rest", () => {
  fc.assert(
    fc.property(anyWindow, fc.integer({ min: 150, max: 4000 }), (window, pixels) => {
      const strip = stripFor(window, nowS, pixels);
      expect(lengthOf(strip) / lengthOf(window)).toBeCloseTo(STRIP, 6);
      expect(fitOf(strip, window, nowS, true)).toBe("good");
      // Nothing later than now is drawn, but for the pixel that it is rounded by.
      expect(strip.to - nowS).toBeLessThanOrEqual((lengthOf(window) / pixels) * 1.01);
    }),
  );
});

test("two strips of one scale stand whole pixels apart, so that the picture does not jump", () => {
  const window = { from: nowS - 100 * 86_400, to: nowS - 70 * 86_400 };
  for (const share of [-0.3, -0.123, 0.07, 0.21]) {
    const moved = panned(window, share, nowS);
    const pixels = 1080;
    const shift = stripFor(moved, nowS, pixels).from - stripFor(window, nowS, pixels).from;
    const px = (shift / lengthOf(window)) * pixels;
    expect(Math.abs(px - Math.round(px))).toBeLessThan(0.01);
    expect(px).not.toBe(0);
  }
});

test("a moment of the strip stands where the window has it, moved or zoomed", () => {
  const window = { from: nowS - 40 * 86_400, to: nowS - 10 * 86_400 };
  const widthPx = 900;
  const strip = stripFor(window, nowS, widthPx);
  const moment = nowS - 20 * 86_400;
  for (const shown of [window, panned(window, 0.2, nowS), zoomed(window, 0.8, 0.3, nowS)]) {
    const { leftPx, stretch } = placeOf(strip, shown, widthPx);
    const inStrip = ((moment - strip.from) / lengthOf(strip)) * widthPx * STRIP;
    const onScreen = leftPx + inStrip * stretch;
    expect(onScreen).toBeCloseTo(((moment - shown.from) / lengthOf(shown)) * widthPx, 6);
  }
});

test("it is drawn anew before it runs out, at once where it has, and not at the end of time", () => {
  const window = { from: nowS - 100 * 86_400, to: nowS - 70 * 86_400 };
  const strip = stripFor(window, nowS, 1000);
  expect(fitOf(strip, panned(window, -0.2, nowS), nowS)).toBe("good");
  expect(fitOf(strip, panned(window, -0.4, nowS), nowS)).toBe("due");
  expect(fitOf(strip, panned(window, -0.6, nowS), nowS)).toBe("out");
  expect(fitOf(strip, panned(window, -0.2, nowS), nowS, true)).toBe("due");
  // Towards now there is nothing more to draw.
  const late = { from: nowS - 33 * 86_400, to: nowS - 3 * 86_400 };
  const last = stripFor(late, nowS, 1000);
  expect(fitOf(last, panned(late, 1, nowS), nowS, true)).toBe("good");
  expect(fitOf(strip, zoomed(window, 0.9, 0.5, nowS), nowS)).toBe("good");
  expect(fitOf(strip, zoomed(window, 0.9, 0.5, nowS), nowS, true)).toBe("due");
  expect(fitOf(strip, zoomed(window, 0.8, 0.5, nowS), nowS)).toBe("due");
  expect(fitOf(strip, zoomed(window, 0.1, 0.5, nowS), nowS)).toBe("out");
});
