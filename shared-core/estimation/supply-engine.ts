import { arcWithoutGas } from "../alarms/arc-without-gas.ts";
import { type AlarmEvaluator, createAlarmEvaluator } from "../alarms/evaluator.ts";
import { nodeSilent } from "../alarms/node-silent.ts";
import {
  endFaults,
  hearCylinder,
  isCoarse,
  loseCylinder,
  loseSight,
  takeFault,
  watchStuck,
} from "./channel-faults.ts";
import { followLag } from "./clock-lag.ts";
import { noteJudged, watchDrop, watchSupply } from "./condition-watch.ts";
import { FIRST_DROP, GAS, setVariance, takeBody, variance } from "./cylinder-filter.ts";
import {
  announceFitted,
  swapped,
  takeCylinderPressure,
  takeWallTemperature,
} from "./cylinder-watch.ts";
import { readingSigma, tubePressure } from "./device.ts";
import { loseNode, moveTimes } from "./drop-state.ts";
import type {
  EngineOptions,
  PersonEntry,
  PlacedPack,
  PlacedSample,
  ReceivedItem,
  StationLine,
  SupplyEngine,
  SupplySetup,
} from "./engine.ts";
import { takeFits } from "./fit-prior.ts";
import { localTimeS, observe } from "./habit.ts";
import { watchLeak } from "./idle-watch.ts";
import { planWithJobs } from "./job-demand.ts";
import { spoil, stepLeakTest, takeLeakTest, takeTestPressure } from "./leak-test-run.ts";
import { correctLeak } from "./leak-watch.ts";
import { flowingPa, presentFlow, restrictionK } from "./line-flow.ts";
import { tellLiquid, weigh } from "./liquid.ts";
import { drawnNow, dropMolPerS, type LineChange, moveFilter } from "./mass-flow.ts";
import { planSupply, type SupplyPlan } from "./plan.ts";
import { beginPurge, endPurge, followPurge } from "./purge-watch.ts";
import { cylinderReadingSigma } from "./reading-grid.ts";
import { describeRegulators } from "./regulator-change.ts";
import { makeEstimate } from "./report.ts";
import {
  aheadS,
  isCylinderNode,
  isFault,
  newestOf,
  plausible,
  sorted,
  takeDropSample,
  takeLate,
} from "./samples.ts";
import {
  allSilent,
  createPace,
  cylinderUnheard,
  dropsOfNode,
  isSilent,
  learnPace,
  nextSilent,
  overrideWill,
  ownPace,
  silenceAfterS,
  silentSince,
  willed,
} from "./silence.ts";
import { plannedSilenceEndS, shiftEndS } from "./site-hours.ts";
import { heatForecastPa, makeSnapshot } from "./snapshot.ts";
import { readState, writeState } from "./state-text.ts";
import { remind, watchChanges, watchStep } from "./station-watch.ts";
import { createState, type EngineState } from "./supply-state.ts";
import { judgeTold, newCylinder, tellFill, tellSetting } from "./told-watch.ts";
import { addToTrend } from "./trend.ts";
import { followUnseen, staysUnseen } from "./unseen-drop.ts";

/** An engine for one supply. @throws Error where the documents name no cylinder */
export function createSupplyEngine(setup: SupplySetup, options: EngineOptions): SupplyEngine {
  const every = options.every > 0 && Number.isFinite(options.every) ? options.every : 10;
  const plan = planSupply(setup);
  return new Engine(plan, createState(plan, every));
}

/**
 * The engine that `serialise` wrote, going on exactly.
 * @throws SyntaxError or Error where the text is no such state
 */
export function restoreSupplyEngine(text: string): SupplyEngine {
  const { plan, state } = readState(text);
  return new Engine(plan, state);
}

/** A line is written at most so long before its time, s. */
const MOST_EARLY_S = 1;

function weldsInAir(alarms: readonly { condition: string }[]): boolean {
  return alarms.some(({ condition }) => condition === arcWithoutGas.condition);
}

class Engine implements SupplyEngine {
  private plan: SupplyPlan;
  private state: EngineState;
  private evaluators: AlarmEvaluator[] = [];
  /** Faults that the pack at hand names. */
  private told = new Set<string>();
  /** By drop: when its plan no longer explains a silence, reckoned once a silence. */
  private planned: ({ since: number; end: number | null } | null)[] = [];

  constructor(plan: SupplyPlan, state: EngineState) {
    this.plan = planWithJobs(plan, state.jobs);
    this.state = state;
  }

  receive(item: ReceivedItem): StationLine[] {
    const lines: StationLine[] = [];
    if (!Number.isFinite(item.received)) return lines;
    const received = Math.max(item.received, this.state.received ?? item.received);
    this.silence(received, lines);
    this.state.received = received;
    if ("pack" in item) {
      this.takePack(item.pack, received, lines);
    } else if ("person" in item) {
      this.passLines(received, false, lines);
      this.takePerson(item.person, received, item.station);
    } else if ("status" in item) {
      this.passLines(received, false, lines);
      this.takeStatus(item.status, received);
      const { node } = item.status;
      const own = ownPace(this.plan, this.state, node);
      const { silent, packReceived } = own ?? this.state;
      if (!silent && packReceived !== null && willed(this.plan, this.state, node)) {
        this.fallSilent(own === null ? null : node, received, lines);
      }
    } else {
      this.passLines(received, false, lines);
      this.takeSetup(item.setup);
    }
    return lines;
  }

  advance(nowS: number): StationLine[] {
    const lines: StationLine[] = [];
    if (Number.isFinite(nowS)) this.silence(nowS, lines);
    return lines;
  }

  serialise(): string {
    // An evaluator that has not stepped since the restart has nothing new to say.
    this.state.alarmStates = this.plan.drops.map(
      (_, i) => this.evaluators[i]?.serialise() ?? this.state.alarmStates[i] ?? null,
    );
    return writeState(this.plan, this.state);
  }

  /** Writes the lines up to each silence and the one silent line, where `now` shows it. */
  private silence(now: number, lines: StationLine[]): void {
    for (;;) {
      const next = nextSilent(this.plan, this.state, now);
      if (next === null) break;
      this.fallSilent(next.node, next.until, lines);
    }
    this.endPlans(now, lines);
  }

  /** A node (null: the only one) is silent from `until` on: one line of each of its drops says so. */
  private fallSilent(node: string | null, until: number, lines: StationLine[]): void {
    const { plan, state } = this;
    if (!state.catchingUp) this.writeBefore(until, lines);
    const own = ownPace(plan, state, node);
    if (own !== null) own.silent = true;
    const last = own === null || allSilent(plan, state);
    if (last) state.silent = true;
    const silent = plan.drops.flatMap((drop, i) =>
      own === null || drop.node === node || (last && drop.node === null) ? [i] : [],
    );
    for (const i of silent) {
      if (own !== null) loseNode(state.drops[i]!, until);
      this.judgeAlarms(i, until);
    }
    const t = state.nextLine;
    if (t === null) return;
    for (const i of silent) this.pushLine(i, t, lines);
    if (own !== null) own.saidT = t;
    else state.nextLine = t + state.every;
  }

  /** A silence that a planned power-off explained is judged again once the plan has ended. */
  private endPlans(now: number, lines: StationLine[]): void {
    const { plan, state } = this;
    let latest = state.nextLine;
    for (let i = 0; i < plan.drops.length; i++) {
      if (!isSilent(plan, state, i)) continue;
      if (state.alarms[i]!.some(({ condition }) => condition === nodeSilent.condition)) continue;
      const due = this.planEnd(i);
      if (due === null || now < due || state.nextLine === null) continue;
      this.judgeAlarms(i, due);
      const own = ownPace(plan, state, plan.drops[i]!.node);
      const after = own === null ? state.nextLine : (own.saidT ?? 0) + state.every;
      const t = Math.max(ceilMultiple(due, state.every), after);
      this.pushLine(i, t, lines);
      if (own !== null) own.saidT = t;
      else latest = Math.max(latest ?? t, t + state.every);
    }
    state.nextLine = latest;
  }

  /** When a drop's silence is no longer as planned, Unix s; null where it is so for weeks. */
  private planEnd(i: number): number | null {
    const { plan, state } = this;
    const since = silentSince(plan, state, i) ?? state.packReceived ?? 0;
    const known = this.planned[i];
    if (known && known.since === since) return known.end;
    const from = since + silenceAfterS(plan, state, plan.drops[i]!.node);
    const end = plannedSilenceEndS(plan, state, i, since, from);
    this.planned[i] = { since, end };
    return end;
  }

  /** Lines that the clock lets out (a `received` has passed them). */
  private passLines(received: number, _data: boolean, lines: StationLine[]): void {
    const { state } = this;
    if (state.silent || state.catchingUp || state.packReceived === null) return;
    this.writeBefore(received, lines);
  }

  private writeBefore(t: number, lines: StationLine[]): void {
    const { state } = this;
    while (state.nextLine !== null && state.nextLine < t) {
      this.writeLine(state.nextLine, lines);
      state.nextLine = nextMultiple(state.nextLine, state.every);
    }
  }

  private writeLine(t: number, lines: StationLine[]): void {
    const { plan, state } = this;
    plan.drops.forEach((drop, i) => {
      const own = ownPace(plan, state, drop.node);
      // A silent drop has said so, and has no line until its data return.
      if (own !== null && (own.silent || t <= (own.saidT ?? Number.NEGATIVE_INFINITY))) return;
      this.pushLine(i, t, lines);
    });
  }

  private pushLine(i: number, t: number, lines: StationLine[]): void {
    const { plan, state } = this;
    lines.push({
      station: plan.drops[i]!.station.station,
      estimate: makeEstimate(plan, state, i, t),
    });
    state.events[i] = [];
  }

  private takePack(pack: PlacedPack, received: number, lines: StationLine[]): void {
    const { state } = this;
    const node = this.nodeOf(pack.node);
    const before = node.lag?.behindS ?? 0;
    const ahead = aheadS(pack, received);
    node.lag = followLag(node.lag, { ...pack, newestT: newestOf(pack), received });
    const behindS = node.lag?.behindS ?? 0;
    const samples = sorted(pack, ahead > 0 ? ahead : -behindS);
    // Wrong, or none at all: nobody has told the node the time yet.
    node.clockWrong = pack.stampedAtReceipt || ahead > 0 || behindS > 0;
    if (samples.length === 0) {
      this.passLines(received, false, lines);
      return;
    }
    this.told = new Set(samples.map((one) => one.channel).filter((c) => c.endsWith("/fault")));
    learnPace(this.plan, state, pack.node, received);
    const own = ownPace(this.plan, state, pack.node);
    const newest = samples[samples.length - 1]!.t;
    const last = (own ?? state).newestT ?? Number.NEGATIVE_INFINITY;
    const fresh = samples.find((sample) => sample.t > last);
    if (own !== null && fresh !== undefined) {
      overrideWill(state, pack.node, newest);
      own.newestT = newest;
      own.silent = willed(this.plan, state, pack.node);
      if (!own.silent && pack.node === this.plan.node) hearCylinder(state, newest);
    }
    if (fresh !== undefined && (state.nextLine === null || (state.silent && !own?.silent))) {
      // Data return: lines go on with the data, not with the time that passed unseen.
      const first = ceilMultiple(fresh.t, state.every);
      state.nextLine = state.nextLine === null ? first : Math.max(first, state.nextLine);
      state.silent = false;
    }
    if (fresh !== undefined && behindS > before && state.nextLine !== null) {
      // Its clock is known to be behind from here on: nothing was seen of the time that it is moved by.
      state.nextLine = Math.max(state.nextLine, ceilMultiple(fresh.t, state.every));
      for (const i of dropsOfNode(this.plan, pack.node))
        moveTimes(state.drops[i]!, behindS - before);
    }
    const threshold = silenceAfterS(this.plan, state, pack.node);
    const rang = state.alarms.map(weldsInAir);
    const arcs = state.drops.map(({ arc }) => arc);
    state.packReceived = received;
    if (own !== null) own.packReceived = received;
    for (let k = 0; k < samples.length; ) {
      const t = samples[k]!.t;
      let end = k;
      while (end < samples.length && samples[end]!.t === t) end++;
      if (t > (state.newestT ?? Number.NEGATIVE_INFINITY)) {
        this.writeBefore(t, lines);
        overrideWill(state, pack.node, t);
        this.takeGroup(pack.node, t, samples.slice(k, end));
        for (let i = 0; i < arcs.length; i++) arcs[i] = state.drops[i]!.arc;
      } else {
        takeLate(this.plan, state, this.told, pack.node, t, samples.slice(k, end));
      }
      k = end;
    }
    // An edge that fills two packs: temperatures of its moment in the first one make its arc in the
    // second look late. The arc counts from there on, not from the next sample.
    for (let i = 0; i < arcs.length; i++) {
      if (state.drops[i]!.arc !== arcs[i] && state.newestT !== null) {
        this.judgeAlarms(i, state.newestT);
      }
    }
    // A backlog brings its own time along: its lines follow its samples.
    state.catchingUp = state.newestT !== null && received - state.newestT > threshold;
    // What a node sent before its last will came does not bring it back.
    if (own === null && willed(this.plan, state, pack.node)) state.silent = true;
    this.passLines(received, true, lines);
    if (!state.silent && !state.catchingUp) this.ringAtOnce(rang, received, lines);
  }

  /** A weld in air is not kept back until its second is over: the line of that second is written now. */
  private ringAtOnce(rang: readonly boolean[], received: number, lines: StationLine[]): void {
    const { plan, state } = this;
    const { nextLine } = state;
    if (nextLine === null || nextLine - received > MOST_EARLY_S) return;
    const unsaid = state.alarms.some((alarms, i) => {
      const { station } = plan.drops[i]!.station;
      const said = lines.some(
        (line) => line.station === station && weldsInAir(line.estimate.alarms),
      );
      return weldsInAir(alarms) && !rang[i] && !said;
    });
    if (!unsaid) return;
    this.writeLine(nextLine, lines);
    state.nextLine = nextMultiple(nextLine, state.every);
  }

  /** All samples of one moment, newer than anything before. */
  private takeGroup(node: string, t: number, samples: PlacedSample[]): void {
    const { state, plan } = this;
    const last = state.newestT;
    state.newestT = t;
    if (state.filter.t === 0) state.filter.t = t;
    const dtS = last === null ? 0 : t - last;
    const wasOn = state.drops.map((drop) => drop.on);
    const changes: LineChange[] = plan.drops.map(() => null);
    // A fault first: a value beside it is not to be believed.
    for (const sample of samples)
      if (isFault(sample)) takeDropSample(plan, state, this.told, node, t, sample, changes);
    for (const sample of samples)
      if (!isFault(sample)) takeDropSample(plan, state, this.told, node, t, sample, changes);
    moveFilter(plan, state, t, dtS, wasOn, changes);
    let wall: number | null = null;
    let pressure: number | null = null;
    let mass: number | null = null;
    for (const sample of samples) {
      if (!isCylinderNode(plan, node)) break;
      if (sample.channel === "cylinder-temperature") wall = plausible(sample.value, -60, 90);
      if (sample.channel === "cylinder-pressure") pressure = plausible(sample.value, -2e6, 1e8);
      if (sample.channel === "cylinder-mass") mass = plausible(sample.value, 0, 1e5);
      if (sample.channel.endsWith("/fault")) takeFault(this.state, sample, t, -1);
    }
    if (wall !== null) {
      const update = takeWallTemperature(plan, state, t, wall);
      if (update !== null) correctLeak(state.leak, update);
      addToTrend(state.cylinder.wallTrend, t, wall, 600);
    }
    // The cylinder sensor sits on the regulator: its body is the regulator's.
    takeBody(plan.filter, state.filter, state.drops[0]!.regulatorK);
    if (mass !== null) {
      state.cylinder.massKg = mass;
      weigh(plan, state, mass);
    }
    stepLeakTest(plan, state, t);
    if (pressure !== null && !takeTestPressure(plan, state, t, pressure)) {
      const full = plan.drops.map((_, i) => this.molPerS(i, t));
      // In a pause the reading stands for what flowed before: of several drops the least that may have.
      const drawn = drawnNow(plan, state, t) || Math.min(...full);
      const held = watchStuck(plan, state, t, pressure, dtS, drawn);
      if (!held) this.takePressure(t, pressure);
      else if (!isCoarse(plan, state)) state.candidates.length = 0;
      judgeTold(plan, state, t, dtS);
    }
    if (cylinderUnheard(plan, state)) loseCylinder(state, t);
    endFaults(this.state, t);
    loseSight(this.state, t);
    followUnseen(plan, state, t);
    plan.drops.forEach((_, i) => {
      if (state.drops[i]!.lineT === t) watchStep(this.plan, this.state, i, t);
    });
    const flows = plan.drops.map((_, i) => this.molPerS(i, t));
    watchSupply(plan, state, t, dtS, pressure, flows);
    plan.drops.forEach((_, i) => {
      watchDrop(plan, state, i, t, dtS, flows);
      const local = localTimeS(state.habits[i]!, plan.setup.timeZone, t);
      // Behind a closed valve a line that stands open is no use of gas.
      const uses = state.drops[i]!.on === true && state.cylinder.valve !== "closed";
      const seen = !isSilent(plan, state, i) && !staysUnseen(plan, state, i, t);
      if (seen) observe(state.habits[i]!, local, dtS, uses);
      this.followEntries(i, t, dtS);
      remind(plan, state, i, t, local, () => heatForecastPa(plan, state, i, t));
      this.judgeAlarms(i, t);
    });
  }

  private takePressure(t: number, pressurePa: number): void {
    const { plan, state } = this;
    const update = takeCylinderPressure(plan, state, t, pressurePa, drawnNow(plan, state, t));
    if (update === "unsettled") return;
    if (update === null) state.candidates.length = 0;
    else {
      watchChanges(plan, state, t, update);
      watchLeak(plan, state, t, update);
    }
  }

  /** What passed since a purge or a job was declared; each ends with its shift at the latest. */
  private followEntries(i: number, t: number, dtS: number): void {
    const job = this.state.jobs[i];
    const on = this.state.drops[i]!.on === true;
    if (job && on) job.gasOnS += Math.min(dtS, 60);
    if (job?.entry.gasless && t >= job.gaslessUntil) {
      job.entry = { ...job.entry, gasless: false };
      this.plan = planWithJobs(this.plan, this.state.jobs);
      this.state.events[i]!.push({ t: job.gaslessUntil, event: "gasless-ended" });
    }
    followPurge(this.plan, this.state, i, t, dtS, this.molPerS(i, t));
  }

  private judgeAlarms(i: number, t: number): void {
    const { state } = this;
    const evaluator = this.evaluator(i);
    const snapshot = makeSnapshot(this.plan, state, i, t);
    // Kept without their text: the report says them, and the state stays small.
    state.alarms[i] = evaluator
      .step(snapshot)
      .map(({ title: _title, advice: _advice, ...alarm }) => alarm);
    noteJudged(state, i, snapshot, evaluator.undecided());
  }

  /** Evaluators live beside the state; their memory is taken from and written to it. */
  private evaluator(i: number): AlarmEvaluator {
    let evaluator = this.evaluators[i];
    if (evaluator === undefined) {
      evaluator = createAlarmEvaluator();
      const saved = this.state.alarmStates[i];
      if (saved) evaluator.restore(saved);
      this.evaluators[i] = evaluator;
    }
    return evaluator;
  }

  private molPerS(i: number, t: number): number {
    return dropMolPerS(this.plan, this.state, i, t);
  }

  private takePerson(person: PersonEntry, t: number, station: string | undefined): void {
    const { plan, state } = this;
    const index = Math.max(
      0,
      plan.drops.findIndex((drop) => drop.station.station === station),
    );
    if (person.reading !== undefined) this.takeReading(index, t, person.reading);
    if (person.leakTest !== undefined) takeLeakTest(state, index, t, person.leakTest);
    if (person.swap !== undefined) {
      spoil(state, "cylinder-changed");
      const { cylinder, filter } = state;
      tellFill(plan, state, t, person.swap);
      if (cylinder.lastSwap !== null && Math.abs(t - cylinder.lastSwap) < 1200) {
        // The readings said so already; how much liquid is in it they cannot say.
        cylinder.announced = null;
        if (cylinder.liquid) tellLiquid(plan, state, person.swap);
      } else if (plan.liquid !== null && cylinder.valve !== "closed") {
        cylinder.announced = { t, entry: person.swap };
        announceFitted(plan, state, t);
      } else if (cylinder.valve === "open" && cylinder.readingPa !== null && filter.started) {
        // Confirmed by the very next readings; until then what the sensor shows stands.
        cylinder.announced = { t, entry: person.swap };
        swapped(plan, state, t, cylinder.readingPa, cylinderReadingSigma(plan, state));
      } else {
        cylinder.announced = { t, entry: person.swap };
      }
    }
    if (person.purge !== undefined) {
      if (person.purge.end) state.purges[index] = null;
      else beginPurge(plan, state, index, t, person.purge);
    }
    if (person.job !== undefined) {
      // Another job has its own gas; a purge declared along with it is its own.
      if (!person.job.end && person.purge === undefined) endPurge(state, index, t, "job");
      state.jobs[index] = person.job.end
        ? null
        : { t, entry: person.job, gasOnS: 0, gaslessUntil: shiftEndS(plan, state, index, t) };
      this.plan = planWithJobs(plan, state.jobs);
    }
  }

  /** "The float reads 8": a measurement of the flow, good to some ten percent. */
  private takeReading(i: number, t: number, reading: number): void {
    const { plan, state } = this;
    const dropPlan = plan.drops[i]!;
    const drop = state.drops[i]!;
    if (!(reading > 0) || !Number.isFinite(reading)) return;
    const measured = dropPlan.tap === "hose" ? null : flowingPa(dropPlan, drop, t);
    const line = measured ?? dropPlan.deliveryPa ?? dropPlan.referencePa;
    const temperature = restrictionK(drop, state.filter.x[GAS]!);
    const tube = tubePressure(dropPlan.device, line + dropPlan.atmospherePa, dropPlan.atmospherePa);
    const molPerS = dropPlan.device.trueFlow(reading, tube, temperature);
    if (molPerS === null || !(molPerS > 0)) return;
    const relative = presentFlow(dropPlan, drop, t, state.filter.x[GAS]!);
    const { filter, told } = state;
    const sigma = readingSigma(dropPlan.device, measured !== null);
    tellSetting(told, i, Math.log(molPerS / relative), sigma);
    const value = Math.log(molPerS / relative) - told.volumeLog;
    const away = value - filter.x[FIRST_DROP + i]!;
    if (away * away > 9 * (sigma ** 2 + variance(filter, FIRST_DROP + i))) {
      setVariance(filter, FIRST_DROP + i, 0.5 ** 2);
    }
    const gain = variance(filter, FIRST_DROP + i) / (variance(filter, FIRST_DROP + i) + sigma ** 2);
    filter.x[FIRST_DROP + i] = filter.x[FIRST_DROP + i]! + gain * away;
    setVariance(filter, FIRST_DROP + i, (1 - gain) * variance(filter, FIRST_DROP + i));
  }

  private nodeOf(name: string): EngineState["nodes"][number] {
    const known = this.state.nodes.find(({ node }) => node === name);
    if (known !== undefined) return known;
    const node: EngineState["nodes"][number] = {
      node: name,
      offlineSince: null,
      clockWrong: false,
      configError: null,
    };
    if (this.plan.nodes.length > 1) node.own = createPace();
    this.state.nodes.push(node);
    return node;
  }

  private takeStatus(
    status: Extract<ReceivedItem, { status: unknown }>["status"],
    received: number,
  ): void {
    const node = this.nodeOf(status.node);
    node.offlineSince = status.state === "offline" ? (node.offlineSince ?? received) : null;
    node.configError = status.configError ?? null;
  }

  /** A new description: what was learnt of a part that stays, stays. */
  private takeSetup(setup: SupplySetup): void {
    let next: SupplyPlan;
    try {
      next = planSupply(setup);
    } catch {
      return;
    }
    const old = this.state;
    const fresh = createState(next, old.every);
    const kind = (plan: SupplyPlan) =>
      JSON.stringify([plan.cylinder.composition, plan.liquid === null]);
    const sameGas = kind(next) === kind(this.plan);
    const resized = next.filter.waterVolumeM3 !== this.plan.filter.waterVolumeM3;
    const sameDrops =
      next.drops.map((drop) => drop.station.station).join() ===
      this.plan.drops.map((drop) => drop.station.station).join();
    // A liquid is counted in moles of the cylinder that was described: another size starts anew.
    if (sameGas && sameDrops && !(resized && next.liquid !== null)) {
      if (resized) newCylinder(old, true);
      takeFits(this.plan, next, old.filter);
      const before = this.plan;
      describeRegulators(before, next, old, old.received ?? old.newestT ?? 0);
      this.plan = planWithJobs(next, old.jobs);
      this.changeNodes(before);
      return;
    }
    fresh.newestT = old.newestT;
    fresh.nextLine = old.nextLine;
    fresh.received = old.received;
    fresh.packReceived = old.packReceived;
    fresh.silent = old.silent;
    fresh.filter.t = old.filter.t;
    fresh.nodes = old.nodes;
    const before = this.plan;
    this.plan = next;
    this.state = fresh;
    this.evaluators = [];
    this.changeNodes(before);
  }

  /** Another node of a drop that was heard is awaited as the one before it was. */
  private changeNodes(before: SupplyPlan): void {
    const { plan, state } = this;
    this.planned = [];
    if (plan.nodes.length < 2) return;
    for (const { node, station } of plan.drops) {
      const drop = before.drops.find((one) => one.station.station === station.station);
      if (node === null || !drop || drop.node === node) continue;
      const was = ownPace(plan, state, drop.node);
      const { own } = this.nodeOf(node);
      if (was === null || !own || own.packReceived !== null) continue;
      Object.assign(own, structuredClone(was), { newestT: null });
    }
  }
}

function ceilMultiple(t: number, every: number): number {
  return Math.ceil(t / every - 1e-9) * every;
}

function nextMultiple(t: number, every: number): number {
  return Math.round(t / every + 1) * every;
}
