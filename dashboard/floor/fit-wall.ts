/** Parts of a tile that would cut what they hold, were it too long. */
const HOLDERS = ".tile-head, .tile-body, .tile-left, .sentence";
const STEP = 0.95;
/** Smaller than this nobody could read it across a shop; and no text of ours needs it. */
const LEAST = 0.5;

/**
 * Makes the type of a wall smaller, for all its tiles alike, until none cuts a line: names, languages
 * and alarms differ in length. Before each paint, so that a cut line is never seen.
 *
 * @returns ends it
 */
export function fitWall(tiles: HTMLElement): () => void {
  const fit = () => {
    let size = 1;
    tiles.style.setProperty("--wall-fit", "1");
    while (size > LEAST && isCut(tiles)) {
      size *= STEP;
      tiles.style.setProperty("--wall-fit", size.toFixed(3));
    }
  };
  const changed = new MutationObserver(fit);
  changed.observe(tiles, { childList: true, characterData: true, subtree: true });
  const resized = new ResizeObserver(fit);
  resized.observe(tiles);
  void document.fonts.ready.then(fit);
  return () => {
    changed.disconnect();
    resized.disconnect();
  };
}

function isCut(tiles: HTMLElement): boolean {
  for (const tile of tiles.children) {
    // Half a pixel is rounding.
    if (tile.scrollHeight > tile.clientHeight + 1) return true;
    for (const holder of tile.querySelectorAll(HOLDERS)) {
      if (holder.scrollHeight > holder.clientHeight + 1) return true;
      if (holder.scrollWidth > holder.clientWidth + 1) return true;
    }
  }
  return false;
}
