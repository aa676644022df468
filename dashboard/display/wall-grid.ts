export interface WallGrid {
  columns: number;
  rows: number;
  perPage: number;
}

/** Room that a tile of the wall needs, in sizes of its type. */
export const TILE_WIDTH_EM = 20;
export const TILE_HEIGHT_EM = 17;

/** Shares of the screen that tiles have; the rest is header, gaps and edges. */
const TILES_WIDE = 0.94;
const TILES_HIGH = 0.9;

/**
 * Least type of a page by design, as a share of the screen's long side. A wall screen is 1.2 m wide
 * or more; seen from 3 m a label needs capitals of 1/250 of the distance, 12 mm, and a capital is
 * 0.7 of its type: 17 mm of 1200 mm.
 */
const LEAST_TYPE = 1 / 70;

/**
 * What type may shrink to, as a share of the long side, where a text is so long that even a tile
 * without its drawings cuts it: capitals of 10 minutes of arc from 3 m, twice what a good eye just
 * tells apart (5 minutes, the line of full sight on eye charts, ISO 8596).
 */
export const SMALLEST_TYPE = 1 / 96;

/**
 * Columns and rows for a wall screen: for as many stations as can be read from 3 m, those that let
 * the type be largest. Past them the pages turn.
 *
 * @param aspect width over height of the screen
 */
export function wallGrid(stations: number, aspect: number): WallGrid {
  for (let shown = Math.max(1, stations); shown > 1; shown--) {
    const grid = largestType(shown, aspect);
    if (grid.type >= LEAST_TYPE * Math.max(aspect, 1)) return gridOf(grid);
    // Nothing near so many can be read: no need to count down one by one.
    if (shown > MOST) shown = MOST + 1;
  }
  return { columns: 1, rows: 1, perPage: 1 };
}

/** More tiles than this of the size above no screen has room for. */
const MOST = 12;

/** The best grid for a count; its type in heights of the screen. */
function largestType(shown: number, aspect: number) {
  let best = { columns: 1, rows: shown, type: 0 };
  for (let columns = 1; columns <= shown; columns++) {
    const rows = Math.ceil(shown / columns);
    const type = Math.min(
      (TILES_WIDE * aspect) / columns / TILE_WIDTH_EM,
      TILES_HIGH / rows / TILE_HEIGHT_EM,
    );
    if (type > best.type) best = { columns, rows, type };
  }
  return best;
}

const gridOf = ({ columns, rows }: { columns: number; rows: number }): WallGrid => ({
  columns,
  rows,
  perPage: columns * rows,
});

/**
 * Page that is shown at a turn. The neediest stations stand on the first page: while one of them
 * needs somebody, it comes again after every two others, however many there are.
 *
 * @param turn counts from 0
 * @param needy whether the first page has a station that somebody must act on
 * @returns counts from 0
 */
export function pageAt(turn: number, pages: number, needy: boolean): number {
  if (pages <= 1) return 0;
  if (!needy || pages <= 3) return turn % pages;
  const inThree = turn % 3;
  if (inThree === 0) return 0;
  const others = Math.floor(turn / 3) * 2 + inThree - 1;
  return 1 + (others % (pages - 1));
}
