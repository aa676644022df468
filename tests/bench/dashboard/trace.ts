import type { CDPSession } from "playwright-core";

interface TraceEvent {
  name: string;
  ph: string;
  ts: number;
  dur?: number;
  /** CPU time of the thread, µs: free of what other programs do to the machine. */
  tdur?: number;
  pid: number;
  tid: number;
  args?: { name?: string };
}

/** Main-thread work of a page over some time, in ms of CPU. */
export interface FrameFigures {
  /** Frames of 1/60 s in which anything ran. */
  frames: number;
  p50: number;
  p95: number;
  p99: number;
  worst: number;
  longestTask: number;
  /** Share of the time in which the main thread worked. */
  busy: number;
  /** What took longest, by kind of work, ms in a second. */
  kinds: string;
}

const FRAME_US = 1e6 / 60;

/** Traces the page while `work` runs, and sums the main thread's work by frame. */
export async function traceFrames(
  session: CDPSession,
  work: () => Promise<void>,
): Promise<FrameFigures> {
  const events: TraceEvent[] = [];
  const collect = (part: { value: unknown[] }) => {
    events.push(...(part.value as TraceEvent[]));
  };
  session.on("Tracing.dataCollected", collect);
  await session.send("Tracing.start", {
    transferMode: "ReportEvents",
    traceConfig: {
      includedCategories: [
        "toplevel",
        "devtools.timeline",
        "disabled-by-default-devtools.timeline",
      ],
    },
  });
  await work();
  const done = new Promise<void>((resolve) =>
    session.once("Tracing.tracingComplete", () => resolve()),
  );
  await session.send("Tracing.end");
  await done;
  session.off("Tracing.dataCollected", collect);
  return figures(events);
}

function figures(events: readonly TraceEvent[]): FrameFigures {
  const { pid, tid } = pageThread(events);
  const own = events.filter((event) => event.pid === pid && event.tid === tid && event.ph === "X");
  const tasks = own.filter((event) => event.name === "ThreadControllerImpl::RunTask");
  const cost = (event: TraceEvent) => (event.tdur ?? event.dur ?? 0) / 1000;
  const frames = new Map<number, number>();
  let total = 0;
  let longestTask = 0;
  for (const task of tasks) {
    const frame = Math.floor(task.ts / FRAME_US);
    frames.set(frame, (frames.get(frame) ?? 0) + cost(task));
    total += cost(task);
    longestTask = Math.max(longestTask, cost(task));
  }
  const sorted = [...frames.values()].sort((a, b) => a - b);
  const at = (share: number) => sorted[Math.floor(share * (sorted.length - 1))] ?? 0;
  const times = tasks.map((task) => task.ts);
  const spanMs = (Math.max(...times) - Math.min(...times)) / 1000;
  return {
    frames: sorted.length,
    p50: at(0.5),
    p95: at(0.95),
    p99: at(0.99),
    worst: at(1),
    longestTask,
    busy: total / spanMs,
    kinds: kindsOf(own, spanMs, cost),
  };
}

const kinds: Readonly<Record<string, string>> = {
  FunctionCall: "script",
  EventDispatch: "events",
  UpdateLayoutTree: "style",
  Layout: "layout",
  PrePaint: "pre-paint",
  Paint: "paint",
  Layerize: "layers",
  ParseHTML: "parse",
  MinorGC: "small gc",
  MajorGC: "large gc",
};

function kindsOf(
  events: readonly TraceEvent[],
  spanMs: number,
  cost: (event: TraceEvent) => number,
): string {
  const sums = new Map<string, number>();
  for (const event of events) {
    const kind = kinds[event.name];
    if (kind) sums.set(kind, (sums.get(kind) ?? 0) + cost(event));
  }
  return [...sums]
    .sort((a, b) => b[1] - a[1])
    .map(([kind, ms]) => `${kind} ${((ms / spanMs) * 1000).toFixed(0)}`)
    .join(", ");
}

/** The renderer main thread that did most. */
function pageThread(events: readonly TraceEvent[]): { pid: number; tid: number } {
  const mains = events.filter(
    (event) => event.name === "thread_name" && event.args?.name === "CrRendererMain",
  );
  const counts = mains.map((main) => ({
    pid: main.pid,
    tid: main.tid,
    count: events.filter((event) => event.pid === main.pid && event.tid === main.tid).length,
  }));
  const most = counts.sort((a, b) => b.count - a.count)[0];
  if (!most) throw new Error("the trace names no renderer main thread");
  return most;
}
