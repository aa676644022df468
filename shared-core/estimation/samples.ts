import { isHeldReading, takeFault } from "./channel-faults.ts";
import { mayBeAnother, takeCylinderPressure, takeWallTemperature } from "./cylinder-watch.ts";
import { takeLine } from "./drop.ts";
import type { PlacedPack, PlacedSample } from "./engine.ts";
import { ZERO_C } from "./gas-model.ts";
import { countGood, seenFault } from "./line-fault.ts";
import { drawnNow, type LineChange } from "./mass-flow.ts";
import type { SupplyPlan } from "./plan.ts";
import { gasOff, gasOn } from "./station-watch.ts";
import type { EngineState } from "./supply-state.ts";
import { addToTrend } from "./trend.ts";

/** Samples of packs: put in order, judged plausible, given to the drops that they tell of. */

/** A node's clock further ahead of the receipt than this is wrong, s. */
const AHEAD_S = 120;

/** Time of a pack's newest sample by the node's clock, Unix s; minus infinity where it has none. */
export function newestOf(pack: PlacedPack): number {
  let newest = Number.NEGATIVE_INFINITY;
  for (const { t } of pack.samples) if (Number.isFinite(t)) newest = Math.max(newest, t);
  return newest;
}

/** How far a pack's clock lies ahead of its receipt, s; 0 where that is no more than a little. */
export function aheadS(pack: PlacedPack, received: number): number {
  const newest = newestOf(pack);
  return newest > received + AHEAD_S ? newest - received : 0;
}

/**
 * Samples in order of time, the unusable ones left out.
 * @param aheadS how far the node's clock is ahead, s; negative where it is behind
 */
export function sorted(pack: PlacedPack, aheadS: number): PlacedSample[] {
  const usable = pack.samples.filter((sample) => Number.isFinite(sample.t));
  const moved = aheadS === 0 ? usable : usable.map((s) => ({ ...s, t: s.t - aheadS }));
  return moved.every((sample, k) => k === 0 || sample.t >= moved[k - 1]!.t)
    ? moved
    : [...moved].sort((a, b) => a.t - b.t);
}

/** Whether a sample is a fault word. */
export function isFault(sample: PlacedSample): boolean {
  return sample.channel.endsWith("/fault");
}

/** The value where it is a number that such a channel can have; else null. */
export function plausible(value: unknown, low: number, high: number): number | null {
  return typeof value === "number" && value >= low && value <= high ? value : null;
}

/** Whether a node reports the cylinder side. */
export function isCylinderNode(plan: SupplyPlan, node: string): boolean {
  return plan.node === null || node === plan.node;
}

function dropsOf(plan: SupplyPlan, node: string): number[] {
  const out: number[] = [];
  plan.drops.forEach((drop, i) => {
    if (drop.node === null || drop.node === node) out.push(i);
  });
  return out;
}

/**
 * One sample of a node, for each drop that it reports.
 *
 * @param told fault channels that its pack names
 * @param changes what the lines show, by drop: written here
 */
export function takeDropSample(
  plan: SupplyPlan,
  state: EngineState,
  told: ReadonlySet<string>,
  node: string,
  t: number,
  sample: PlacedSample,
  changes: LineChange[],
): void {
  for (const i of dropsOf(plan, node)) {
    const drop = state.drops[i]!;
    const { value } = sample;
    switch (sample.channel) {
      case "line-pressure": {
        const pa = plausible(value, -1e6, 1e8);
        if (pa !== null && believes(plan, state, told, i, t, pa)) {
          const doubted = mayBeAnother(plan, state, t);
          const events = state.events[i]!;
          changes[i] = takeLine(plan.drops[i]!, drop, t, pa, events, doubted) ?? changes[i]!;
        }
        break;
      }
      case "cylinder-pressure":
        drop.nodeT = t;
        break;
      case "arc":
        if (typeof value === "boolean") takeArc(state, i, t, value);
        break;
      case "regulator-temperature": {
        const celsius = plausible(value, -90, 120);
        if (celsius !== null) {
          drop.regulatorK = celsius + ZERO_C;
          drop.regulatorT = t;
          addToTrend(drop.bodyTrend, t, celsius, 240);
        }
        break;
      }
      case "ambient-temperature": {
        const celsius = plausible(value, -60, 70);
        if (celsius !== null) {
          drop.ambientK = celsius + ZERO_C;
          drop.ambientT = t;
        }
        break;
      }
      case "supply-voltage":
        drop.supplyVoltage = plausible(value, 0, 1000);
        break;
      default:
        if (sample.channel.endsWith("/fault")) takeFault(state, sample, t, i);
    }
  }
}

/** Whether a line reading can be used: its pack names no fault, and neither does the reading. */
function believes(
  plan: SupplyPlan,
  state: EngineState,
  told: ReadonlySet<string>,
  i: number,
  t: number,
  pa: number,
): boolean {
  const drop = state.drops[i]!;
  const seen = seenFault(plan.drops[i]!, drop, t, pa);
  if (seen !== null) {
    takeFault(state, { channel: "line-pressure/fault", t, value: seen }, t, i);
  } else if (!told.has("line-pressure/fault")) countGood(drop);
  return drop.lineFault === null;
}

function takeArc(state: EngineState, i: number, t: number, value: boolean): void {
  const drop = state.drops[i]!;
  if (drop.arc !== value) {
    if (drop.arc !== null || value) {
      state.events[i]!.push({ t, event: value ? "arc-on" : "arc-off" });
    }
    drop.arcSince = value ? t : null;
    drop.arcOffSince = value ? null : t;
  }
  drop.arc = value;
  drop.arcT = t;
}

/** Samples older than what was taken in: they can still say that gas was on or a fault stands. */
export function takeLate(
  plan: SupplyPlan,
  state: EngineState,
  told: ReadonlySet<string>,
  node: string,
  t: number,
  samples: PlacedSample[],
): void {
  for (const sample of samples) {
    for (const i of dropsOf(plan, node)) {
      const drop = state.drops[i]!;
      if (sample.channel === "line-pressure" && (drop.lineT === null || t > drop.lineT)) {
        const changes: LineChange[] = plan.drops.map(() => null);
        const wasOn = drop.on;
        takeDropSample(plan, state, told, node, t, sample, changes);
        const change = changes[i];
        if (change?.on === true) gasOn(state, i, change.t, wasOn);
        else if (change?.on === false) gasOff(state, i, change.t, wasOn);
      } else if (sample.channel === "arc" && (drop.arcT === null || t > drop.arcT)) {
        takeDropSample(
          plan,
          state,
          told,
          node,
          t,
          sample,
          plan.drops.map(() => null),
        );
      }
    }
    const { cylinder } = state;
    if (!isCylinderNode(plan, node)) continue;
    if (sample.channel === "cylinder-pressure" && t > (cylinder.readingT ?? 0)) {
      const pa = plausible(sample.value, -2e6, 1e8);
      if (pa !== null && (state.newestT ?? t) - t < 20 && !isHeldReading(state, pa))
        takeCylinderPressure(plan, state, t, pa, drawnNow(plan, state, t));
    }
    if (sample.channel === "cylinder-temperature" && t > (cylinder.wallT ?? 0)) {
      const celsius = plausible(sample.value, -60, 90);
      if (celsius !== null && (state.newestT ?? t) - t < 60)
        takeWallTemperature(plan, state, t, celsius);
    }
  }
}
