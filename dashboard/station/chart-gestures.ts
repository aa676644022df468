import { panned, pinched, type TimeWindow, zoomed } from "../display/chart-window.ts";

/** What a gesture needs to know of the chart, and how it moves it. */
export interface Movable {
  window(): TimeWindow;
  nowS(): number;
  move(window: TimeWindow): void;
  /** The same, by a hand that takes the moment under it along. */
  drag(window: TimeWindow): void;
  /** Left edge and width of the plot on the screen, px. */
  box(): { left: number; width: number };
}

const KEY_SHARE = 0.1;
const KEY_ZOOM = 1.5;

/** The window that a key leads to; null for keys that mean nothing here. */
export function windowForKey(key: string, window: TimeWindow, nowS: number): TimeWindow | null {
  switch (key) {
    case "ArrowLeft":
      return panned(window, -KEY_SHARE, nowS);
    case "ArrowRight":
      return panned(window, KEY_SHARE, nowS);
    case "PageUp":
      return panned(window, -0.9, nowS);
    case "PageDown":
      return panned(window, 0.9, nowS);
    case "+":
    case "=":
      return zoomed(window, 1 / KEY_ZOOM, 0.5, nowS);
    case "-":
      return zoomed(window, KEY_ZOOM, 0.5, nowS);
    case "End":
      return panned(window, 1e6, nowS);
    default:
      return null;
  }
}

/**
 * Dragging with one finger or the mouse pans, two fingers zoom, the wheel zooms with Ctrl held (the
 * page keeps the plain wheel), and keys do both. Returns what takes it all off again.
 */
export function addGestures(element: HTMLElement, chart: Movable): () => void {
  /** Places of the fingers that are down, 0 to 1 across the plot. */
  const fingers = new Map<number, number>();
  const place = (event: PointerEvent | WheelEvent) => {
    const { left, width } = chart.box();
    return (event.clientX - left) / Math.max(1, width);
  };
  const abort = new AbortController();
  const { signal } = abort;
  const on = <K extends keyof HTMLElementEventMap>(
    kind: K,
    handle: (event: HTMLElementEventMap[K]) => void,
    options: AddEventListenerOptions = {},
  ) => element.addEventListener(kind, handle, { ...options, signal });

  on("pointerdown", (event) => {
    if (event.pointerType === "mouse" && event.button !== 0) return;
    fingers.set(event.pointerId, place(event));
    element.setPointerCapture(event.pointerId);
  });
  on("pointermove", (event) => {
    const before = fingers.get(event.pointerId);
    if (before === undefined) return;
    const after = place(event);
    if (fingers.size === 1) {
      chart.drag(panned(chart.window(), before - after, chart.nowS()));
    } else {
      const other = [...fingers].find(([id]) => id !== event.pointerId)?.[1] ?? 0;
      chart.drag(pinched(chart.window(), [before, other], [after, other], chart.nowS()));
    }
    fingers.set(event.pointerId, after);
  });
  const lifted = (event: PointerEvent) => void fingers.delete(event.pointerId);
  on("pointerup", lifted);
  on("pointercancel", lifted);
  on(
    "wheel",
    (event) => {
      const sideways = Math.abs(event.deltaX) > Math.abs(event.deltaY);
      if (!event.ctrlKey && !sideways) return;
      event.preventDefault();
      const at = Math.min(1, Math.max(0, place(event)));
      const next = sideways
        ? panned(chart.window(), event.deltaX / chart.box().width, chart.nowS())
        : zoomed(chart.window(), Math.exp(event.deltaY * 0.002), at, chart.nowS());
      chart.move(next);
    },
    { passive: false },
  );
  on("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const next = windowForKey(event.key, chart.window(), chart.nowS());
    if (!next) return;
    event.preventDefault();
    chart.move(next);
  });
  return () => abort.abort();
}
