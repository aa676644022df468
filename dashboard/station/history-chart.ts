import { fitOf, stripFor } from "../display/chart-strip.ts";
import { valueTicks } from "../display/chart-ticks.ts";
import { lengthOf, type TimeWindow } from "../display/chart-window.ts";
import { words } from "../language/words.ts";
import { onLookChange } from "../style/look-change.ts";
import { remPx } from "../style/tokens.ts";
import { coloursNow, hatchOf, widestPx } from "./chart-drawing.ts";
import { addGestures } from "./chart-gestures.ts";
import { ChartPanel, type Means, scaleText } from "./chart-panel.ts";
import { type ChartInput, type Panel, type PanelName, panelsOf } from "./chart-panels.ts";

export interface HistoryChart {
  show(input: ChartInput): void;
  move(window: TimeWindow): void;
  destroy(): void;
}

/** So long after its last move the chart rests, and gets itself ready for the next. */
const REST_MS = 150;

/**
 * Three panels one above the other on the same time axis, with one cursor, that can be dragged,
 * pinched and moved by keys. `moved` is told of every new window, once a frame.
 */
export function createHistoryChart(
  host: HTMLElement,
  moved: (window: TimeWindow) => void,
): HistoryChart {
  const panels = new Map<PanelName, ChartPanel>();
  let means: Means | null = null;
  let window: TimeWindow = { from: 0, to: 1 };
  let madeFor = "";
  let frame = 0;
  let rest = 0;
  let told = true;
  /** The moment under the cursor; it stays with the picture while that is moved or fetched anew. */
  let moment: number | null = null;
  /** Where the mouse hovers, px from the left of the screen. */
  let mouseX: number | null = null;
  /** Keys, the wheel or a button moved the picture away from under a mouse that stands still. */
  let underMouse = false;

  const now = () => Math.max(means?.input.nowS ?? 0, window.to);
  const strip = () => stripFor(window, now(), (means?.widthPx ?? 1) * (devicePixelRatio || 1));
  const box = () =>
    host.querySelector(".chart-plot")?.getBoundingClientRect() ?? { left: 0, width: 1 };

  const soon = () => {
    frame ||= requestAnimationFrame(step);
  };

  /** One frame: shifts every panel, draws those that show a hole, else the next that is due. */
  function step(): void {
    cancelAnimationFrame(frame);
    frame = 0;
    const all = [...panels.values()];
    const resting = rest === 0;
    const fit = (panel: ChartPanel) => fitOf(panel.strip, window, now(), resting);
    const out = all.filter((panel) => fit(panel) === "out");
    const due = all.filter((panel) => panel.stale || fit(panel) === "due");
    const turn = out.length > 0 ? out : due.slice(0, 1);
    for (const panel of turn) panel.draw(strip());
    for (const panel of all) panel.place(window);
    pointAll(turn);
    if (due.length > turn.length) soon();
    if (told) return;
    told = true;
    moved(window);
  }

  function pointAll(some: Iterable<ChartPanel>): void {
    const seen = moment !== null && window.from <= moment && moment <= window.to;
    for (const panel of some) panel.point(seen ? moment : null);
  }

  function pointAt(clientX: number | null): void {
    const { left, width } = clientX === null ? { left: 0, width: 1 } : box();
    const place = clientX === null ? -1 : (clientX - left) / Math.max(1, width);
    const inside = place >= 0 && place <= 1;
    const next = inside ? window.from + place * lengthOf(window) : null;
    if (next === moment) return;
    moment = next;
    pointAll(panels.values());
  }

  function rested(): void {
    rest = 0;
    // What a hand has dragged is its moment still: read off the pixels it could become its neighbour.
    if (underMouse && mouseX !== null) pointAt(mouseX);
    else pointAll(panels.values());
    underMouse = false;
    soon();
  }

  function move(next: TimeWindow): void {
    underMouse = true;
    shift(next);
  }

  function shift(next: TimeWindow): void {
    window = next;
    told = false;
    clearTimeout(rest);
    rest = globalThis.setTimeout(rested, REST_MS) as unknown as number;
    soon();
  }

  const dropGestures = addGestures(host, {
    window: () => window,
    nowS: () => means?.input.nowS ?? window.to,
    move,
    drag: shift,
    box,
  });
  const dropCursor = followPointer(host, {
    hover: (x, pressed) => {
      mouseX = x;
      if (!pressed) pointAt(x);
    },
    tap: pointAt,
  });
  const dropLook = onLookChange(() => {
    if (!means) return;
    const colours = coloursNow();
    Object.assign(means, { colours, hatch: hatchOf(colours) });
    for (const panel of panels.values()) panel.stale = true;
    soon();
  });
  const observer = new ResizeObserver(() => {
    if (!means) return;
    const widthPx = plotWidth(host);
    if (widthPx === means.widthPx || widthPx <= 0) return;
    means.widthPx = widthPx;
    for (const panel of panels.values()) panel.draw(strip());
    soon();
  });
  observer.observe(host);

  function clear(): void {
    for (const panel of panels.values()) panel.destroy();
    panels.clear();
  }

  return {
    move,
    show(input) {
      // A move that is not told yet is newer.
      if (told) window = input.window;
      const rem = remPx();
      const all = panelsOf(input);
      // Other units, words or size of type need new panels; new data only has to be drawn.
      const made = JSON.stringify([
        input.units,
        input.zone,
        rem,
        input.demand !== null,
        all.map((panel) => [panel.title, panel.lines.map((line) => line.name)]),
      ]);
      if (made !== madeFor) clear();
      madeFor = made;
      setGutters(host, all, rem);
      const widthPx = Math.max(1, plotWidth(host));
      if (means && panels.size > 0) Object.assign(means, { input, rem, widthPx });
      else {
        const colours = coloursNow();
        means = { input, rem, widthPx, colours, hatch: hatchOf(colours) };
      }
      const shared = means;
      for (const panel of all) {
        const there = panels.get(panel.name);
        if (there) {
          there.take(panel);
          continue;
        }
        const fresh = new ChartPanel(host, panel, strip(), () => shared);
        panels.set(panel.name, fresh);
        fresh.draw(strip());
      }
      step();
    },
    destroy() {
      cancelAnimationFrame(frame);
      clearTimeout(rest);
      dropGestures();
      dropCursor();
      dropLook();
      observer.disconnect();
      clear();
    },
  };
}

/** Room for the scale on the left and the names on the right, the same for all panels. */
function setGutters(host: HTMLElement, panels: readonly Panel[], rem: number): void {
  const scale = panels.flatMap((panel) => valueTicks(panel.top, 4).map(scaleText));
  const names = panels.flatMap((panel) => panel.lines.map((line) => line.name));
  const set = (name: string, px: number) => host.style.setProperty(name, `${px}px`);
  set("--chart-scale", widestPx(scale, rem) + 10);
  set("--chart-names", widestPx([...names, words.chart.needed], rem) + 12);
}

function plotWidth(host: HTMLElement): number {
  const style = getComputedStyle(host);
  const gutter = (name: string) => Number.parseFloat(style.getPropertyValue(name)) || 0;
  return Math.floor(host.clientWidth - gutter("--chart-scale") - gutter("--chart-names"));
}

/** Where a mouse is and a finger taps; a mouse whose button is down moves the chart. */
function followPointer(
  host: HTMLElement,
  to: { hover: (x: number | null, pressed: boolean) => void; tap: (x: number) => void },
): () => void {
  const abort = new AbortController();
  const { signal } = abort;
  let asked = 0;
  let last: PointerEvent;
  let kind = "";
  const tell = () => {
    cancelAnimationFrame(asked);
    asked = 0;
    to.hover(last.clientX, last.buttons !== 0);
  };
  host.addEventListener(
    "pointerdown",
    (event) => {
      kind = event.pointerType;
      // What is dragged from here on is the moment under the mouse, not the one of a frame ago.
      if (asked !== 0) tell();
    },
    { signal },
  );
  host.addEventListener(
    "pointermove",
    (event) => {
      if (event.pointerType !== "mouse") return;
      last = event;
      asked ||= requestAnimationFrame(tell);
    },
    { signal },
  );
  host.addEventListener(
    "pointerleave",
    (event) => {
      if (event.pointerType !== "mouse") return;
      cancelAnimationFrame(asked);
      asked = 0;
      to.hover(null, false);
    },
    { signal },
  );
  host.addEventListener(
    "click",
    (event) => {
      // A mouse hovers, and its click, which also ends a drag, tells its place in whole pixels only.
      if (kind !== "mouse") to.tap(event.clientX);
    },
    { signal },
  );
  return () => {
    cancelAnimationFrame(asked);
    abort.abort();
  };
}
