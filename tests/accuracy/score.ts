import { detectionBoundS } from "./cramer-rao.ts";
import { scaleLeftLitres } from "./liquid-bound.ts";
import type { Run } from "./simulate.ts";

/** Sums that can be added over runs: count, sum, squares, inside the interval, widths. */
export interface Tally {
  n: number;
  sum: number;
  squares: number;
  inside: number;
  width: number;
  widths: number;
}

export function tally(): Tally {
  return { n: 0, sum: 0, squares: 0, inside: 0, width: 0, widths: 0 };
}

function add(to: Tally, error: number): void {
  to.n++;
  to.sum += error;
  to.squares += error * error;
}

function addInterval(to: Tally, error: number, truth: number, low: number, high: number): void {
  add(to, error);
  to.widths++;
  to.width += high - low;
  if (truth >= low && truth <= high) to.inside++;
}

export function merge(to: Tally, from: Tally): void {
  to.n += from.n;
  to.sum += from.sum;
  to.squares += from.squares;
  to.inside += from.inside;
  to.width += from.width;
  to.widths += from.widths;
}

/** What one run is judged by. Errors of flow are relative, of content in parts of full, of minutes as named. */
export interface Score {
  scenario: string;
  seed: number;
  /** Relative error 10 s after gas-on, conductance learnt. */
  flowLearnt: Tally;
  /** Error in L/min, 5 minutes after gas-on, no line sensor. */
  flowCylinder: Tally;
  flowBand: Tally;
  contentBand: Tally;
  minutesBand: Tally;
  /** 99th percentile of the absolute error, part of full: any time, and below a quarter. */
  content99: number | null;
  quarter99: number | null;
  /** The same of a count that knows all but its float's own error, until the liquid is gone; null for gases. */
  quarterBound99: number | null;
  contentUnknown: number;
  /** Relative errors at half and at a quarter; minutes in the last twenty. */
  atHalf: Tally;
  atQuarter: Tally;
  lastMinutes: Tally;
  gasOnDelays: number[];
  /** Without a line sensor: the same over what the noise allows, and how wrongly they are dated, s. */
  delayOverBound: number[];
  dated: Tally;
  gasOnMissed: number;
  gasOnSpells: number;
  /** Spells left out of these: no gas, or no data of it ever came. */
  gasOnUnheard: number;
  falseGasOn: number;
  /** Gas-on seconds until a re-dial was noticed; null where missed. */
  reDialS: (number | null)[];
  falseReDials: number;
  afterReDial: Tally;
  leakFound: boolean;
  leakLpm: number | null;
  swapsSeen: number;
  swapsTrue: number;
  falseSwaps: number;
  samples: number;
  engineMs: number;
  /** Packed, and as the text that a store holds, without the documents. */
  stateBytes: number;
  stateText: number;
  hours: number;
  /** The same instants by hand: two gauge readings and a stopwatch, and a moving slope (L/min). */
  stopwatch: Tally;
  slope: Tally;
  ours: Tally;
}

const LEARNT_S = 1800;

/** Scores a run against its truth. */
export function score(run: Run): Score {
  const { lines, events, scenario } = run;
  const station = scenario.station;
  const litresAt = station.cylinder;
  const full = fullLitres(run);
  const out: Score = {
    scenario: scenario.name,
    seed: run.seed,
    flowLearnt: tally(),
    flowCylinder: tally(),
    flowBand: tally(),
    contentBand: tally(),
    minutesBand: tally(),
    content99: null,
    quarter99: null,
    quarterBound99: null,
    contentUnknown: 0,
    atHalf: tally(),
    atQuarter: tally(),
    lastMinutes: tally(),
    gasOnDelays: [],
    delayOverBound: [],
    dated: tally(),
    gasOnMissed: 0,
    gasOnSpells: 0,
    gasOnUnheard: 0,
    falseGasOn: 0,
    reDialS: [],
    falseReDials: 0,
    afterReDial: tally(),
    leakFound: false,
    leakLpm: null,
    swapsSeen: 0,
    swapsTrue: events.filter((e) => e.event === "swap").length,
    falseSwaps: 0,
    samples: run.samples,
    engineMs: run.engineMs,
    stateBytes: run.stateBytes,
    stateText: run.stateText,
    hours: scenario.hours,
    stopwatch: tally(),
    slope: tally(),
    ours: tally(),
  };
  void litresAt;
  const hasLine = station.sensors?.line !== undefined;
  const on = events.filter((e) => e.event === "gas-on");
  const off = events.filter((e) => e.event === "gas-off");
  // Spells of true gas-on with the cylinder open.
  const spells = on.map((e) => ({
    from: e.t,
    to: off.find((o) => o.t > e.t)?.t ?? Number.POSITIVE_INFINITY,
  }));
  const restarts = events
    .filter((e) => ["swap", "valve-opened", "node-on", "re-dial"].includes(e.event))
    .map((e) => e.t);
  const contentRestarts = [
    lines[0]?.estimate.t ?? 0,
    ...events.filter((e) => ["swap", "valve-opened", "node-on"].includes(e.event)).map((e) => e.t),
  ];
  let spell = 0;
  let gasOnS = 0;
  let learntS = 0;
  let lastT = lines[0]?.estimate.t ?? 0;
  let restart = 0;
  const contentErrors: number[] = [];
  const quarterErrors: number[] = [];
  const quarterBounds: number[] = [];
  let contentLines = 0;
  const seenOn = new Set<number>();
  const reDials = events.filter((e) => e.event === "re-dial");
  const noticed = reDials.map(() => false);
  const sinceReDial = reDials.map(() => 0);
  let tenDone = -1;
  for (const { estimate, truth } of lines) {
    const { t } = estimate;
    const dt = Math.max(0, t - lastT);
    lastT = t;
    while (spell < spells.length && spells[spell]!.to <= t) spell++;
    const current = spells[spell];
    const isOn = current !== undefined && current.from <= t && truth.gasOn && truth.valveOpen;
    while (restart < restarts.length && restarts[restart]! <= t) {
      restart++;
      learntS = 0;
    }
    if (isOn) {
      gasOnS += dt;
      learntS += dt;
      reDials.forEach((e, k) => {
        if (t > e.t && !noticed[k]) sinceReDial[k] = sinceReDial[k]! + dt;
      });
    }
    const steady = isOn && t - current.from >= 10 && truth.flowLpm > 0.5;
    const { flow, content, remaining, mode } = estimate;
    // Events.
    for (const event of estimate.events) {
      if (event.event === "gas-on") {
        // Gas was on at some moment between its date and its detection.
        const near = spells.findIndex(
          (s, k) =>
            !seenOn.has(k) &&
            s.from < t &&
            event.t > s.from - 90 &&
            event.t < Math.min(s.to, s.from + 600) + 5,
        );
        if (near >= 0) {
          seenOn.add(near);
          const { from } = spells[near]!;
          out.gasOnDelays.push(t - from);
          add(out.dated, event.t - from);
          if (!hasLine) out.delayOverBound.push((t - from) / boundS(run, truth));
        } else if (
          truth.flowLpm < 0.5 &&
          !spells.some((s) => event.t > s.from - 20 && event.t < s.to + 15)
        ) {
          out.falseGasOn++;
        }
      } else if (event.event === "re-dial") {
        const k = reDials.findIndex((e, i) => !noticed[i] && t > e.t);
        const ratio = event.ratio ?? 1;
        if (k >= 0 && ratio > 1 === (reDials[k]!.ratio ?? 1) > 1) {
          noticed[k] = true;
          out.reDialS.push(sinceReDial[k]!);
        } else if (!reDials.some((e) => t > e.t && t < e.t + 1800)) out.falseReDials++;
      } else if (event.event === "swap") {
        if (events.some((e) => e.event === "swap" && Math.abs(e.t - t) < 900)) out.swapsSeen++;
        else out.falseSwaps++;
      }
    }
    // Flow.
    if (steady && flow.lpm !== null && mode === "flowing") {
      const error = flow.lpm - truth.flowLpm;
      addInterval(out.flowBand, error, truth.flowLpm, flow.low ?? 0, flow.high ?? 0);
      if (
        learntS > LEARNT_S &&
        tenDone !== spell &&
        t - current.from >= 10 &&
        t - current.from < 20
      ) {
        tenDone = spell;
        add(out.flowLearnt, error / truth.flowLpm);
      }
      if (!hasLine && t - current.from >= 300 && t - current.from < 300 + scenario.every) {
        add(out.flowCylinder, error);
      }
      const k = reDials.findIndex((e) => t > e.t);
      if (k >= 0 && sinceReDial[k] !== undefined && t > reDials[k]!.t) {
        // Ten minutes of gas-on after the re-dial.
        if (learntS >= 600 && learntS < 600 + scenario.every)
          add(out.afterReDial, error / truth.flowLpm);
      }
    }
    // Content.
    const sinceContent = t - Math.max(...contentRestarts.filter((r) => r <= t));
    if (sinceContent >= 180 && mode !== "silent") {
      contentLines++;
      if (content.litres === null) out.contentUnknown++;
      else {
        const error = content.litres - truth.contentLitres;
        contentErrors.push(Math.abs(error) / full);
        if (truth.contentLitres < full / 4) {
          quarterErrors.push(Math.abs(error) / full);
          const left = scaleLeftLitres(run, truth);
          if (left !== null) quarterBounds.push(left / full);
        }
        addInterval(
          out.contentBand,
          error,
          truth.contentLitres,
          content.low ?? content.litres,
          content.high ?? content.litres,
        );
      }
    }
    // Minutes.
    const minutes = remaining.gasOnMinutes;
    if (steady && mode === "flowing" && minutes.median !== null && sinceContent >= 180) {
      const true_ = truth.usableLitres / truth.flowLpm;
      addInterval(
        out.minutesBand,
        minutes.median - true_,
        true_,
        minutes.low ?? 0,
        minutes.high ?? 0,
      );
      const share = truth.contentLitres / full;
      if (learntS > LEARNT_S || scenario.hours < 4) {
        if (Math.abs(share - 0.5) < 0.04) add(out.atHalf, minutes.median / true_ - 1);
        if (Math.abs(share - 0.25) < 0.03) add(out.atQuarter, minutes.median / true_ - 1);
      }
      if (true_ < 20 && true_ > 0) add(out.lastMinutes, minutes.median - true_);
    }
    if (estimate.leak.side !== null) out.leakFound = true;
    out.leakLpm = estimate.leak.litresPerMinute;
  }
  noticed.forEach((seen) => {
    if (!seen) out.reDialS.push(null);
  });
  const judged = spells.filter(
    (s) => s.to - s.from > (hasLine ? 5 : 120) && s.from < lastT - 30 && couldBeSeen(run, s),
  );
  out.gasOnUnheard = spells.filter((s) => s.from < lastT - 30 && !couldBeSeen(run, s)).length;
  out.gasOnSpells = judged.length;
  out.gasOnMissed = judged.filter((s) => !seenOn.has(spells.indexOf(s))).length;
  out.contentUnknown = contentLines === 0 ? 1 : out.contentUnknown / contentLines;
  out.content99 = percentile(contentErrors, 0.99);
  out.quarter99 = percentile(quarterErrors, 0.99);
  out.quarterBound99 = percentile(quarterBounds, 0.99);
  byHand(run, out, spells);
  void gasOnS;
  return out;
}

/** Whether gas really flowed in a spell, and the node told of it: an empty cylinder and a node without power show nothing. */
function couldBeSeen(run: Run, spell: { from: number; to: number }): boolean {
  const told = run.heard.some((t) => t > spell.from && t < spell.to);
  const after = run.lines.find((line) => line.estimate.t >= spell.from)?.truth;
  return told && after !== undefined && after.usableLitres > 0 && after.valveOpen;
}

/** 2 ln L that a gas-on has to reach to be called: about one false call in a million readings. */
const CALLED = 24;

/** Shortest delay in which this station's gas-on could be seen, s. */
function boundS(run: Run, truth: Run["lines"][number]["truth"]): number {
  const { plant, scenario } = run;
  const { cylinder } = scenario.station;
  if (!cylinder) return Number.NaN;
  const sensor = plant.config.sensors.cylinder;
  const pa = truth.cylinderGaugePa + 101325;
  const kelvin = 293.15;
  const perPa =
    ((plant.gas.densityAt(kelvin, pa + 1e5) - plant.gas.densityAt(kelvin, pa)) / 1e5) *
    ((cylinder.waterVolumeL * cylinder.count) / plant.gas.metric20Density);
  const flowLpm = truth.flowLpm > 0.5 ? truth.flowLpm : 8;
  return detectionBoundS(
    {
      slopePaPerS: flowLpm / 60 / perPa,
      // Argon at 150 bar (NIST WebBook: cp/cv = 2.2); 70 s by natural convection.
      capacityRatio: 2.2,
      tauS: 70,
      hiddenPa: 2 * sensor.hysteresis * sensor.rangePa,
      noisePa: sensor.noisePa,
      everyS: 5,
    },
    CALLED,
  );
}

/** Litres (`metric20`) of a full cylinder as the plant would hold it. */
function fullLitres(run: Run): number {
  const { cylinder } = run.scenario.station;
  if (!cylinder) return 1;
  const plant = run.plant;
  if (!("filledBar" in cylinder)) return (cylinder.filledKg as number) * 546;
  const rho = plant.gas.densityAt(
    (cylinder.filledC as number) + 273.15,
    (cylinder.filledBar as number) * 1e5 + 101325,
  );
  return (rho * cylinder.waterVolumeL * cylinder.count) / plant.gas.metric20Density;
}

export function percentile(values: number[], p: number): number | null {
  if (values.length === 0) return null;
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(p * sorted.length))] ?? null;
}

/**
 * What people do by hand over the same five minutes of gas-on: two gauge readings (a needle read
 * to 2 bar) with an ideal gas and no temperature; and the plain slope of all readings.
 */
function byHand(run: Run, out: Score, spells: { from: number; to: number }[]): void {
  const { t, pa } = run.cylinder;
  const cylinder = run.scenario.station.cylinder;
  if (!cylinder) return;
  const litresPerPa = ((cylinder.waterVolumeL * cylinder.count) / 101325 / 1) * (293.15 / 293.15);
  for (const { from, to } of spells) {
    if (to - from < 320) continue;
    const at = from + 300;
    const line = run.lines.find((l) => l.estimate.t >= at);
    if (!line || line.estimate.flow.lpm === null || line.estimate.mode !== "flowing") continue;
    const truth = line.truth.flowLpm;
    const inside: number[] = [];
    for (let k = 0; k < t.length; k++) if (t[k]! >= from && t[k]! <= at) inside.push(k);
    if (inside.length < 20) continue;
    const first = inside[0]!;
    const last = inside[inside.length - 1]!;
    const read = (pressure: number): number => Math.round(pressure / 2e5) * 2e5;
    const hand = ((read(pa[first]!) - read(pa[last]!)) * litresPerPa * 60) / (t[last]! - t[first]!);
    add(out.stopwatch, hand - truth);
    let st = 0;
    let sp = 0;
    let stt = 0;
    let stp = 0;
    for (const k of inside) {
      const x = t[k]! - from;
      st += x;
      sp += pa[k]!;
      stt += x * x;
      stp += x * pa[k]!;
    }
    const n = inside.length;
    const slope = (stp - (st * sp) / n) / (stt - (st * st) / n);
    add(out.slope, -slope * litresPerPa * 60 - truth);
    add(out.ours, line.estimate.flow.lpm - truth);
  }
}
