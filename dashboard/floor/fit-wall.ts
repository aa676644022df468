import { SMALLEST_TYPE } from "../display/wall-grid.ts";

/** Parts of a tile that would cut what they hold, were it too long. */
const HOLDERS = ".tile-head, .tile-body, .tile-left, .sentence";
/** Texts whose length decides what fits; figures of one length are as wide as one another. */
const TEXTS = ".tile-name, .tile-age, .flow-figure, .tile-note, .tile-time, .sentence-text";
/** What a tile gives up for its text: the cylinder's drawing, then the slot as well. */
const SHORTER = ["1", "2"];
const STEP = 0.95;

/**
 * Lets no tile of a wall cut a line: names, languages and alarms differ in length. A tile whose text
 * is too long gives up its drawings (`data-short`); only where that does not suffice is the type of
 * all tiles made smaller, and never smaller than can be read from 3 m. Before each paint, so that a
 * cut line is never seen; measured only when a text has another length than it had, since figures
 * change each second.
 *
 * @returns ends it
 */
export function fitWall(tiles: HTMLElement): () => void {
  let fitted = "";
  const fit = () => {
    fitted = lengthsOf(tiles);
    tiles.style.setProperty("--wall-fit", "1");
    for (const tile of tiles.children) tile.removeAttribute("data-short");
    let cut = [...tiles.children].filter(isCut);
    for (const short of SHORTER) {
      for (const tile of cut) tile.setAttribute("data-short", short);
      cut = cut.filter(isCut);
    }
    if (cut.length === 0) return;
    const least = leastFit(tiles);
    let size = 1;
    while (size > least && [...tiles.children].some(isCut)) {
      size = Math.max(least, size * STEP);
      tiles.style.setProperty("--wall-fit", size.toFixed(3));
    }
  };
  const changed = new MutationObserver(() => {
    if (lengthsOf(tiles) !== fitted) fit();
  });
  changed.observe(tiles, { childList: true, characterData: true, subtree: true });
  const resized = new ResizeObserver(fit);
  resized.observe(tiles);
  void document.fonts.ready.then(fit);
  return () => {
    changed.disconnect();
    resized.disconnect();
  };
}

/** What the texts of all tiles are long, in their order; reads no layout. */
function lengthsOf(tiles: HTMLElement): string {
  const lengths: string[] = [];
  for (const tile of tiles.children) {
    lengths.push(tile.getAttribute("data-station") ?? "");
    for (const text of tile.querySelectorAll(TEXTS)) {
      lengths.push(String(text.textContent?.length ?? 0));
    }
  }
  return lengths.join(" ");
}

/** Share of the grid's type below which nobody could read it. */
function leastFit(tiles: HTMLElement): number {
  const type = Number.parseFloat(getComputedStyle(tiles).fontSize);
  const smallest = SMALLEST_TYPE * Math.max(innerWidth, innerHeight);
  return Math.min(1, smallest / type);
}

function isCut(tile: Element): boolean {
  // Half a pixel is rounding.
  if (tile.scrollHeight > tile.clientHeight + 1) return true;
  for (const holder of tile.querySelectorAll(HOLDERS)) {
    if (holder.scrollHeight > holder.clientHeight + 1) return true;
    if (holder.scrollWidth > holder.clientWidth + 1) return true;
  }
  return false;
}
