/**
 * What stands over a table with rows of simulated stations; null where none is.
 *
 * @param virtual of each row, whether its station is simulated
 * @param text the line where every row is, and the line where real ones stand beside them
 */
export function inventedNote(
  virtual: readonly boolean[],
  text: { all: string; some: string },
): string | null {
  if (!virtual.includes(true)) return null;
  return virtual.includes(false) ? text.some : text.all;
}
