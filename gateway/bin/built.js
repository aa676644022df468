import { readFileSync, statSync } from "node:fs";

/**
 * What tells two states of a file apart: its size, and when it was written.
 *
 * @param {URL} file
 */
export function stampOf(file) {
  const { size, mtimeMs } = statSync(file);
  return `${size} ${mtimeMs}`;
}

/**
 * True where the program built in `dist` was made from the sources as they are now.
 *
 * @param {URL} dist folder of the built program; `inputs.json` there holds the stamp of each source by
 *   its path from that folder
 */
export function isFresh(dist) {
  try {
    const inputs = JSON.parse(readFileSync(new URL("inputs.json", dist), "utf8"));
    return Object.entries(inputs).every(([path, stamp]) => stampOf(new URL(path, dist)) === stamp);
  } catch {
    // Not built, or a source is gone.
    return false;
  }
}
