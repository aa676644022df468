export interface WallGrid {
  columns: number;
  rows: number;
  perPage: number;
}

/** Most tiles that can still be read across a shop; past them the pages turn. */
const MOST = 12;
/** Room that a tile needs, in sizes of its type. */
export const TILE_WIDTH_EM = 25;
export const TILE_HEIGHT_EM = 27;

/**
 * Columns and rows for a wall screen: those that let the type be largest.
 *
 * @param aspect width over height of the screen
 */
export function wallGrid(stations: number, aspect: number): WallGrid {
  const shown = Math.min(MOST, Math.max(1, stations));
  let best = { columns: 1, rows: shown, size: 0 };
  for (let columns = 1; columns <= shown; columns++) {
    const rows = Math.ceil(shown / columns);
    const size = Math.min(aspect / columns / TILE_WIDTH_EM, 1 / rows / TILE_HEIGHT_EM);
    if (size > best.size) best = { columns, rows, size };
  }
  return { columns: best.columns, rows: best.rows, perPage: best.columns * best.rows };
}
