import { hasLine } from "./drop-state.ts";
import type { PersonEntry } from "./engine.ts";
import type { LeakTestEstimate } from "./estimate.ts";
import {
  addTrapped,
  HIGH_SIDE_EMPTY_PA,
  judgeLeakTest,
  type LeakCaution,
  type LeakVerdict,
  LINE_EMPTY_PA,
  startTrapped,
  type TrappedGas,
  type TrappedVolume,
  volumeLeak,
} from "./leak-test.ts";
import type { SupplyPlan } from "./plan.ts";
import type { EngineState } from "./supply-state.ts";

/** A leak test that a person declared: its course, kept until the next one; plain data. */
export interface LeakTestState {
  drop: number;
  since: number;
  phase: "settling" | "running" | "done" | "void";
  why: LeakTestEstimate["why"] | null;
  /** The high side belongs to the test: the cylinder's filter does not read it. */
  holds: boolean;
  /** The regulator is shut too. */
  shut: boolean;
  high: TrappedGas | null;
  line: TrappedGas | null;
  startPa: number;
  /** First line reading of the test itself, gauge Pa. */
  lineStartPa: number;
  /** Lowest and latest reading of the high side, Pa. */
  lowPa: number;
  lastPa: number;
  /** Regulator's body when the readings began, K. */
  bodyK: number | null;
  emptied: boolean;
  result: LeakVerdict | null;
}

/** The gas that was throttled settles for this long, then the test takes its time, s. */
const SETTLE_S = 60;
const TEST_S = 600;
/** A rise by this much from one reading to the next is an opened valve, not a body that warms, Pa. */
const OPENED_PA = 0.5e5;
/** Change of the gas temperature over the test, 1 sigma, K, with and without a probe (no source). */
const CHANGE_K = 0.3;
const BLIND_CHANGE_K = 2;
/** Share of the regulator's own warming that is not known of the gas: high side, line (no source). */
const HIGH_SHARE = 0.15;
const LINE_SHARE = 0.3;
/** Volume between valve and seat where nobody described it, m³, and relative 1 sigmas (no source). */
const HIGH_SIDE_M3 = 20e-6;
const UNDESCRIBED_SIGMA = 0.5;
const DESCRIBED_SIGMA = 0.15;
/** Slow error of a sensor over ten minutes at rest, share of its range, 1 sigma (no source). */
const SLOW_SHARE = 0.00005;

/** Starts the test of a drop, or ends one early. */
export function takeLeakTest(
  state: EngineState,
  i: number,
  t: number,
  entry: NonNullable<PersonEntry["leakTest"]>,
): void {
  const before = state.leakTest;
  // One supply, one test: another drop's goes on, and a result is not lost to a start that gas-on forbids.
  if (before !== null && isUnderWay(before) && before.drop !== i) return;
  if (entry.end) {
    if (isUnderWay(before)) spoil(state, "ended");
    return;
  }
  const flowing = state.drops.some((one) => one.on === true);
  if (flowing && before?.phase === "done") return;
  const { cylinder } = state;
  const startPa = cylinder.readingPa ?? 0;
  state.leakTest = {
    drop: i,
    since: t,
    phase: "settling",
    why: null,
    holds: true,
    shut: entry.regulator === "shut",
    high: null,
    line: null,
    startPa,
    lineStartPa: 0,
    lowPa: startPa,
    lastPa: startPa,
    bodyK: null,
    emptied: false,
    result: null,
  };
  if (flowing) {
    spoil(state, "gas-on");
    return;
  }
  if (cylinder.valve !== "closed") {
    cylinder.valve = "closed";
    cylinder.closedSince = t;
    cylinder.closedIdle = false;
    cylinder.lowPa = startPa;
    cylinder.risenT = null;
    for (const list of state.events) list.push({ t, event: "valve-closed" });
  }
}

function isUnderWay(test: LeakTestState | null): boolean {
  return test !== null && (test.phase === "settling" || test.phase === "running");
}

/** The test says nothing: why; the readings belong to the cylinder again. */
export function spoil(state: EngineState, why: NonNullable<LeakTestState["why"]>): void {
  const test = state.leakTest;
  if (test === null) return;
  test.holds = false;
  if (!isUnderWay(test)) return;
  test.phase = "void";
  test.why = why;
  test.high = null;
  test.line = null;
}

/** Line readings and time of the test; call once a moment, before the high side's reading. */
export function stepLeakTest(plan: SupplyPlan, state: EngineState, t: number): void {
  const test = state.leakTest;
  if (test === null || !test.holds) return;
  if (state.drops.some((one) => one.on === true)) {
    spoil(state, "gas-on");
    return;
  }
  if (!isUnderWay(test)) return;
  const drop = state.drops[test.drop]!;
  const line = hasLine(drop, t) && drop.lineT === t ? drop.linePa : null;
  if (t - test.since < SETTLE_S) return;
  if (test.phase === "settling") {
    test.phase = "running";
    test.bodyK = drop.regulatorK;
  }
  if (line !== null) {
    const rho = density(plan, line, lineK(state, test.drop));
    if (test.line === null) {
      test.line = startTrapped(t, rho);
      test.lineStartPa = line;
    }
    addTrapped(test.line, t, rho);
  }
  if (t - test.since >= SETTLE_S + TEST_S) finish(plan, state, test);
}

/**
 * A reading of the high side.
 *
 * @returns whether the test takes it; else it is the cylinder's
 */
export function takeTestPressure(
  plan: SupplyPlan,
  state: EngineState,
  t: number,
  pa: number,
): boolean {
  const test = state.leakTest;
  if (test === null || !test.holds) return false;
  const { cylinder } = state;
  const under = isUnderWay(test);
  const opened = pa > test.lastPa + Math.max(OPENED_PA, 0.3 * fallen(test));
  const unchanged = !under && fallen(test) < 0.01 * test.startPa;
  if (opened || unchanged) {
    cylinder.lowPa = test.lowPa;
    spoil(state, "valve-opened");
    return false;
  }
  cylinder.readingPa = pa;
  cylinder.readingT = t;
  test.lastPa = pa;
  test.lowPa = Math.min(test.lowPa, pa);
  if (pa < HIGH_SIDE_EMPTY_PA) test.emptied = true;
  if (test.phase === "running" && !test.emptied) {
    const rho = density(plan, pa, highK(state, test.drop));
    test.high ??= startTrapped(t, rho);
    addTrapped(test.high, t, rho);
  }
  return true;
}

function fallen(test: LeakTestState): number {
  return test.startPa - test.lowPa;
}

function finish(plan: SupplyPlan, state: EngineState, test: LeakTestState): void {
  const drop = state.drops[test.drop]!;
  const dropPlan = plan.drops[test.drop]!;
  const cautions: LeakCaution[] = [];
  const probed = highK(state, test.drop) !== null;
  if (!probed) cautions.push("no-temperature");
  const warmed = Math.abs((drop.regulatorK ?? 0) - (test.bodyK ?? drop.regulatorK ?? 0));
  const changeK = (share: number) => Math.hypot(probed ? CHANGE_K : BLIND_CHANGE_K, share * warmed);
  const described = dropPlan.regulator?.highSideMl;
  if (described === undefined) cautions.push("volume-not-described");
  const fed = test.startPa >= HIGH_SIDE_EMPTY_PA;
  if (test.emptied) cautions.push(fed ? "high-side-empty" : "high-side-without-pressure");
  const volume = (
    gas: TrappedGas | null,
    volumeM3: number,
    volumeSigma: number,
    slowPa: number,
    gasK: number,
    changeSigmaK: number,
  ): TrappedVolume | null =>
    gas === null
      ? null
      : {
          gas,
          volumeM3,
          volumeSigma,
          slowMolPerM3: slowPa / plan.gas.slope(gas.rho0, gasK),
          gasK,
          changeSigmaK,
        };
  const judged = (one: TrappedVolume | null) =>
    one === null ? null : volumeLeak(one, plan.gas.standardMolPerM3);
  const high = judged(
    volume(
      test.high,
      described === undefined ? HIGH_SIDE_M3 : described * 1e-6,
      described === undefined ? UNDESCRIBED_SIGMA : DESCRIBED_SIGMA,
      SLOW_SHARE * plan.filter.sensorRangePa,
      highK(state, test.drop) ?? 293.15,
      changeK(HIGH_SHARE),
    ),
  );
  // A tap behind the restriction sees the hose, which the regulator feeds through it.
  const bare = test.line !== null && test.lineStartPa < LINE_EMPTY_PA;
  if (bare && dropPlan.tap !== "hose") cautions.push("line-without-pressure");
  const line = judged(
    volume(
      dropPlan.tap === "hose" || bare ? null : test.line,
      dropPlan.hoseVolumeM3,
      dropPlan.station.hose === undefined ? UNDESCRIBED_SIGMA : DESCRIBED_SIGMA,
      SLOW_SHARE * (dropPlan.lineRangePa ?? 10e5),
      lineK(state, test.drop) ?? 293.15,
      changeK(LINE_SHARE),
    ),
  );
  test.result = judgeLeakTest(high, line, test.shut, cautions, test.emptied && fed);
  test.phase = test.result === null ? "void" : "done";
  const bareSide = bare || (test.emptied && !fed);
  test.why = test.result !== null ? null : bareSide ? "no-pressure" : "too-few-readings";
  test.high = null;
  test.line = null;
}

/** Gas of the high side sits in the regulator; of the line mostly in the hose, at the room's air. */
function highK(state: EngineState, i: number): number | null {
  const drop = state.drops[i]!;
  return drop.regulatorK ?? drop.ambientK ?? state.cylinder.wallK;
}

function lineK(state: EngineState, i: number): number | null {
  const drop = state.drops[i]!;
  return drop.ambientK ?? state.cylinder.wallK ?? drop.regulatorK;
}

function density(plan: SupplyPlan, gaugePa: number, kelvin: number | null): number {
  const rho = plan.gas.densityAt(gaugePa + plan.filter.atmospherePa, kelvin ?? 293.15);
  return Number.isFinite(rho) ? rho : 0;
}

/** What the line says of the test; null where none was declared. */
export function leakTestEstimate(state: EngineState, drop: number): LeakTestEstimate | null {
  const test = state.leakTest;
  if (test === null || test.drop !== drop) return null;
  const { phase, since, why, result } = test;
  const figure = (leak: LeakVerdict["line"]) =>
    leak === null
      ? null
      : {
          cm3PerMin: Number(leak.cm3PerMin.toPrecision(3)),
          low: Number(leak.low.toPrecision(3)),
          high: Number(leak.high.toPrecision(3)),
          smallest: Number(leak.smallest.toPrecision(3)),
        };
  return {
    phase,
    since,
    until: since + SETTLE_S + TEST_S,
    ...(why === null ? {} : { why }),
    ...(result === null
      ? {}
      : {
          side: result.side,
          tested: result.tested,
          cylinder: figure(result.cylinder),
          line: figure(result.line),
          cautions: result.cautions,
        }),
  };
}
