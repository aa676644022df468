export interface WallGrid {
  columns: number;
  rows: number;
  perPage: number;
}

/** Most tiles that can still be read across a shop. */
const MOST = 12;

/** Columns and rows for a wall screen; past twelve stations the pages turn. */
export function wallGrid(stations: number, wide: boolean): WallGrid {
  const shown = Math.min(MOST, Math.max(1, stations));
  const longSide = shown <= 1 ? 1 : shown <= 4 ? 2 : shown <= 9 ? 3 : 4;
  const shortSide = Math.ceil(shown / longSide);
  const [columns, rows] = wide ? [longSide, shortSide] : [shortSide, longSide];
  return { columns, rows, perPage: columns * rows };
}
