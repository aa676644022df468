import { describe, expect, it } from "vitest";
import type { ReceivedItem, SupplySetup } from "../../../shared-core/estimation/engine.ts";
import type { Estimate } from "../../../shared-core/estimation/estimate.ts";
import {
  createSupplyEngine,
  restoreSupplyEngine,
} from "../../../shared-core/estimation/supply-engine.ts";
import {
  ownRhythms,
  twoDropStartS as START,
  simulateTwoDrops,
  twoDropDocuments,
} from "../../accuracy/two-drops.ts";
import { allHours } from "../../hours.ts";

/** The cylinder's node, and one for each drop. */
const [CYLINDER, BAY_3, BAY_4] = ["n-06", "n-07", "n-08"];
const HOURS = 1.7;

function threeNodes(): SupplySetup {
  const { supply, stations } = twoDropDocuments();
  const line = { rangeBar: 10, accuracyPercentFs: 0.5 };
  return {
    supply: {
      ...supply,
      node: CYLINDER,
      sensors: { cylinder: { rangeBar: 250, accuracyPercentFs: 0.5 } },
    },
    stations: stations.map((station) => ({ ...station, sensors: { line } })),
    timeZone: "UTC",
  };
}

/** What the three nodes send; `silent` leaves out the packs of one from a moment on, s after the start. */
function itemsOf(open: (t: number) => [boolean, boolean]): ReceivedItem[] {
  const items: ReceivedItem[] = [];
  simulateTwoDrops({ hours: HOURS, every: 10, open }, 1, (item) => {
    if (!("pack" in item) || item.pack.node !== BAY_3) {
      items.push(item);
      return;
    }
    const ofCylinder = item.pack.samples.filter((one) => one.channel.startsWith("cylinder"));
    const others = item.pack.samples.filter((one) => !one.channel.startsWith("cylinder"));
    items.push({ ...item, pack: { ...item.pack, samples: others } });
    items.push({ ...item, pack: { ...item.pack, node: CYLINDER, samples: ofCylinder } });
  });
  return items;
}

interface Said {
  station: string;
  /** When it was said, s after the start. */
  at: number;
  /** Its own time, s after the start. */
  t: number;
  estimate: Estimate;
}

/** Lines of a run in which `node` says nothing from `from` to `to`; the clock ticks each second. */
function runWithout(
  items: readonly ReceivedItem[],
  gap: { node: string; from: number; to?: number; will?: boolean },
  restartAt: number | null = null,
): Said[] {
  const { node, from, to = Number.POSITIVE_INFINITY, will = false } = gap;
  let engine = createSupplyEngine(threeNodes(), { every: 10 });
  const lines: Said[] = [];
  let next = 0;
  let willed = !will;
  for (let s = 0; s < HOURS * 3600; s++) {
    if (s === restartAt) engine = restoreSupplyEngine(engine.serialise());
    const now = START + s;
    const out = [];
    for (; next < items.length && items[next]!.received < now + 1; next++) {
      const item = items[next]!;
      const missing = "pack" in item && item.pack.node === node && s >= from && s < to;
      if (!missing) out.push(...engine.receive(item));
    }
    if (!willed && s >= from) {
      willed = true;
      const status = { node, state: "offline" as const, boot: 1 };
      out.push(...engine.receive({ received: now + 1, status }));
    }
    out.push(...engine.advance(now + 1));
    for (const { station, estimate } of out) {
      lines.push({ station, at: s + 1, t: estimate.t - START, estimate });
    }
  }
  return lines;
}

const of = (lines: readonly Said[], station: string, from: number, to: number) =>
  lines.filter((line) => line.station === station && line.t >= from && line.t < to);
const rings = ({ estimate }: Said, condition = "node-silent") =>
  estimate.alarms.some((alarm) => alarm.condition === condition);

const rhythms = ownRhythms(1);
/** Bay-4 is idle when its node stops; bay-3 goes on. */
const idleAt = 3000;
const idleItems = itemsOf((t) => {
  const [a, b] = rhythms(t);
  return [a, b && !(t > idleAt - 240 && t < idleAt + 300)];
});

describe("a supply of two drops with three nodes, one of which stops", () => {
  for (const will of [false, true]) {
    it(`says so of its drop alone, ${will ? "at its last will" : "after three times its pace"}`, () => {
      const lines = runWithout(idleItems, { node: BAY_4!, from: idleAt, will });
      const mine = of(lines, "bay-4", idleAt, HOURS * 3600);
      const silent = mine.filter(({ estimate }) => estimate.mode === "silent");
      expect(silent.length).toBe(1);
      const [first] = silent;
      expect(first!.at - idleAt).toBeLessThanOrEqual(will ? 10 : 195);
      expect(rings(first!)).toBe(true);
      expect(first!.estimate.flow.lpm).toBeNull();
      expect(first!.estimate.expected).toBeNull();
      // None follows that would show it alive.
      expect(mine.at(-1)).toBe(first);
      const other = of(lines, "bay-3", idleAt + 300, HOURS * 3600);
      expect(other.length).toBeGreaterThan(200);
      expect(other.some(({ estimate }) => estimate.mode === "flowing")).toBe(true);
      expect(other.filter((line) => rings(line) || line.estimate.mode === "silent")).toEqual([]);
      const last = other.at(-1)!;
      expect(last.estimate.content.litres).toBeLessThan(other[0]!.estimate.content.litres! - 50);
    });
  }

  it("with gas on is silent within some fifteen seconds, and not shown flowing", () => {
    const from = 3000;
    const items = itemsOf((t) => [rhythms(t)[0], t > from - 60 || rhythms(t)[1]]);
    const lines = runWithout(items, { node: BAY_4!, from });
    const mine = of(lines, "bay-4", from + 20, HOURS * 3600);
    expect(mine.every(({ estimate }) => estimate.mode === "silent")).toBe(true);
    const first = of(lines, "bay-4", 0, HOURS * 3600).at(-1)!;
    expect([first.estimate.mode, rings(first)]).toEqual(["silent", true]);
    expect(first.at - from).toBeLessThan(20);
    // What it goes on drawing is in the content all the same.
    const end = of(lines, "bay-3", 0, HOURS * 3600).at(-1)!.estimate;
    const seen = runWithout(items, { node: BAY_4!, from: 1e9 });
    const truly = of(seen, "bay-3", 0, HOURS * 3600).at(-1)!.estimate;
    expect(end.content.low!).toBeLessThan(truly.content.litres!);
    expect(end.content.high!).toBeGreaterThan(truly.content.litres!);
    const width = (one: Estimate) => one.content.high! - one.content.low!;
    expect(width(end)).toBeGreaterThan(width(truly));
  });

  it("for some seconds of a weld goes on flowing: its line stands where it flows", () => {
    const from = 3000;
    const items = itemsOf((t) => [
      rhythms(t)[0],
      (t > from - 60 && t < from + 200) || (rhythms(t)[1] && Math.abs(t - from - 70) > 230),
    ]);
    const lines = runWithout(items, { node: BAY_4!, from, to: from + 14 });
    const back = of(lines, "bay-4", from + 20, from + 200);
    expect(back.length).toBeGreaterThan(15);
    expect(back.every(({ estimate }) => estimate.mode === "flowing")).toBe(true);
    // A flow that no drop explains would be laid to the other one.
    const told = lines.flatMap(({ estimate }) => estimate.events.map(({ event }) => event));
    expect(told).not.toContain("re-dial");
  });

  it("at the cylinder leaves the drops alive, the content held and a fault that says why", () => {
    const lines = runWithout(idleItems, { node: CYLINDER!, from: idleAt });
    for (const station of ["bay-3", "bay-4"]) {
      const later = of(lines, station, idleAt + 260, HOURS * 3600);
      expect(later.some(({ estimate }) => estimate.mode === "flowing")).toBe(true);
      expect(later.filter((line) => rings(line))).toEqual([]);
      expect(later.every((line) => rings(line, "sensor-fault"))).toBe(true);
      const { content, measured, alarms } = later.at(-1)!.estimate;
      expect(content.why).toContain("cylinder's node");
      expect(content.ageS).toBeGreaterThan(2700);
      expect(measured?.cylinderPa).toBeNull();
      const said = alarms.find(({ condition }) => condition === "sensor-fault");
      expect(said?.title).toContain("no word from its node");
      expect(said?.advice).not.toContain("change the sensor");
    }
  });

  it("that comes back has lines again, and its alarm goes", () => {
    const lines = runWithout(idleItems, { node: BAY_4!, from: idleAt, to: idleAt + 1800 });
    const back = of(lines, "bay-4", idleAt + 1900, HOURS * 3600);
    expect(back.length).toBeGreaterThan(80);
    expect(back.some(({ estimate }) => estimate.mode === "flowing")).toBe(true);
    expect(back.filter((line) => rings(line))).toEqual([]);
    const times = of(lines, "bay-4", 0, HOURS * 3600).map(({ t }) => t);
    expect(times.every((t, k) => k === 0 || t > times[k - 1]!)).toBe(true);
  });

  it.runIf(allHours)("is the same after a restart in its silence", { tags: ["hours"] }, () => {
    const gap = { node: BAY_4!, from: idleAt, to: idleAt + 1800 };
    expect(runWithout(idleItems, gap, idleAt + 900)).toEqual(runWithout(idleItems, gap));
  });
});
