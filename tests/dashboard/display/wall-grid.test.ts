import { describe, expect, test } from "vitest";
import {
  pageAt,
  TILE_HEIGHT_EM,
  TILE_WIDTH_EM,
  wallGrid,
} from "../../../dashboard/display/wall-grid.ts";

/** Height of a capital on a screen 1.2 m wide, mm, in the type that a grid leaves. */
function capitalMm(stations: number): number {
  const { columns, rows } = wallGrid(stations, 16 / 9);
  const wideMm = 1200;
  const highMm = (wideMm * 9) / 16;
  const typeMm = Math.min(
    (0.94 * wideMm) / columns / TILE_WIDTH_EM,
    (0.9 * highMm) / rows / TILE_HEIGHT_EM,
  );
  return 0.7 * typeMm;
}

describe("the tiles of a wall", () => {
  test("as many stand on a page as can be read from 3 m; past them the pages turn", () => {
    for (let n = 1; n <= 6; n++) expect(wallGrid(n, 16 / 9).perPage).toBeGreaterThanOrEqual(n);
    expect(wallGrid(6, 16 / 9)).toEqual({ columns: 3, rows: 2, perPage: 6 });
    expect(wallGrid(6, 9 / 16).rows).toBeGreaterThan(wallGrid(6, 9 / 16).columns);
    for (const n of [7, 12, 40, 200]) expect(wallGrid(n, 16 / 9).perPage).toBe(6);
  });

  // Labels 1/250 of the distance or more: `common practice, no source`.
  test.each([1, 2, 3, 4, 6, 12, 40, 200])("%i stations: a label is 12 mm high or more", (n) => {
    expect(capitalMm(n)).toBeGreaterThanOrEqual(11.99);
  });
});

describe("the pages of a wall", () => {
  const seen = (turns: number, pages: number, needy: boolean) =>
    Array.from({ length: turns }, (_, turn) => pageAt(turn, pages, needy));

  test("while the first has somebody in need, it comes again after every two others", () => {
    expect(seen(9, 34, true)).toEqual([0, 1, 2, 0, 3, 4, 0, 5, 6]);
    expect(new Set(seen(3 * 17, 34, true)).size).toBe(34);
    expect(seen(7, 5, true)).toEqual([0, 1, 2, 0, 3, 4, 0]);
  });

  test("else they turn in their order", () => {
    expect(seen(4, 3, false)).toEqual([0, 1, 2, 0]);
    expect(seen(4, 3, true)).toEqual([0, 1, 2, 0]);
    expect(seen(3, 1, true)).toEqual([0, 0, 0]);
  });
});
