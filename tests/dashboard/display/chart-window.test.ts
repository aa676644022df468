import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  clampWindow,
  isCovered,
  LONGEST_S,
  lastSpan,
  lengthOf,
  panned,
  pinched,
  SHORTEST_S,
  spanOf,
  toLoad,
  zoomed,
} from "../../../dashboard/display/chart-window.ts";

const nowS = 1_764_000_000;
const day = lastSpan("1d", nowS);
const earlier = { from: nowS - 10 * 86_400, to: nowS - 9 * 86_400 };

const windows = fc
  .tuple(fc.double({ min: 0, max: 2e7, noNaN: true }), fc.double({ min: 1, max: 3e7, noNaN: true }))
  .map(([back, length]) => clampWindow({ from: nowS - back - length, to: nowS - back }, nowS));

function expectSound(window: { from: number; to: number }): void {
  expect(window.to).toBeLessThanOrEqual(nowS + 1e-3);
  expect(lengthOf(window)).toBeGreaterThanOrEqual(SHORTEST_S - 1e-3);
  expect(lengthOf(window)).toBeLessThanOrEqual(LONGEST_S + 1e-3);
}

describe("zooming", () => {
  test("half the length about the middle", () => {
    const closer = zoomed(earlier, 0.5, 0.5, nowS);
    expect(closer.from).toBeCloseTo(earlier.from + 21_600, 3);
    expect(closer.to).toBeCloseTo(earlier.to - 21_600, 3);
  });

  test("the moment under the pointer stays there", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (place) => {
        const still = earlier.from + place * 86_400;
        const after = zoomed(earlier, 0.7, place, nowS);
        expect(after.from + place * lengthOf(after)).toBeCloseTo(still, 2);
      }),
    );
  });

  test("no window ends up in the future, nor shorter or longer than can be shown", () => {
    fc.assert(
      fc.property(
        windows,
        fc.double({ min: 0.001, max: 1000, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: -5, max: 5, noNaN: true }),
        (window, factor, place, share) => {
          expectSound(zoomed(window, factor, place, nowS));
          expectSound(panned(window, share, nowS));
          expectSound(pinched(window, [0.2, 0.8], [place, 1 - place], nowS));
        },
      ),
    );
  });

  test("two fingers keep their moments", () => {
    const after = pinched(earlier, [0.4, 0.6], [0.2, 0.8], nowS);
    expect(lengthOf(after)).toBeCloseTo(86_400 / 3, 3);
    const moment = earlier.from + 0.4 * 86_400;
    expect(after.from + 0.2 * lengthOf(after)).toBeCloseTo(moment, 3);
  });

  test("fingers on one spot change nothing", () => {
    expect(pinched(earlier, [0.4, 0.6], [0.5, 0.5], nowS)).toEqual(earlier);
  });
});

describe("panning", () => {
  test("a quarter earlier", () => {
    const moved = panned(earlier, -0.25, nowS);
    expect(moved.from).toBeCloseTo(earlier.from - 21_600, 3);
    expect(lengthOf(moved)).toBeCloseTo(86_400, 3);
  });

  test("not past now", () => {
    expect(panned(day, 0.5, nowS)).toEqual(day);
  });
});

describe("spans", () => {
  test("a named span is known again, another is not", () => {
    expect(spanOf(day)).toBe("1d");
    expect(spanOf({ from: nowS - 100_000, to: nowS })).toBe(null);
  });
});

describe("what is fetched", () => {
  test("half a window more on either side, at the same resolution", () => {
    const load = toLoad(earlier, 600, nowS);
    expect(load.from).toBe(earlier.from - 43_200);
    expect(load.to).toBe(earlier.to + 43_200);
    expect(load.points).toBe(1200);
    expect(load.bucketS).toBe(144);
  });

  test("nothing of the future is asked for", () => {
    const load = toLoad(day, 600, nowS);
    expect(load.to).toBe(nowS);
    expect(load.points).toBe(900);
  });

  test("it serves until a fifth of the window is left, or the scale has changed", () => {
    const load = toLoad(earlier, 600, nowS);
    expect(isCovered(load, earlier, 600, nowS)).toBe(true);
    expect(isCovered(load, panned(earlier, -0.25, nowS), 600, nowS)).toBe(true);
    expect(isCovered(load, panned(earlier, -0.35, nowS), 600, nowS)).toBe(false);
    expect(isCovered(load, zoomed(earlier, 0.4, 0.5, nowS), 600, nowS)).toBe(false);
    expect(isCovered(load, zoomed(earlier, 0.8, 0.5, nowS), 600, nowS)).toBe(true);
  });

  test("at the end of time nothing more can be fetched", () => {
    expect(isCovered(toLoad(day, 600, nowS), day, 600, nowS)).toBe(true);
    expect(isCovered(toLoad(day, 600, nowS), day, 600, nowS + 2000)).toBe(false);
  });
});
