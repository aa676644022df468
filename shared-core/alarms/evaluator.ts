import type { ActiveAlarm } from "../estimation/estimate.ts";
import type { AlarmCondition, RecentPast, StationSnapshot, Verdict } from "./condition.ts";
import { advance, freshMemory, pack, priorities, unpack } from "./delays.ts";
import { alarmConditions } from "./index.ts";
import { alarmLanguages } from "./language/index.ts";
import type { SaidAlarm } from "./language/said.ts";
import { sayAlarm } from "./language/say.ts";
import { soundSnapshot } from "./sound-snapshot.ts";
import { coldHasBegun, noteWarmDelivery } from "./warm-delivery.ts";
import { siteSayUnits } from "./wording.ts";

/** A step longer than this adds only so much to a delay: nothing is known of the time between, s. */
const longestStepS = 120;

/** A condition that is active but left out because another explains it. */
export interface SuppressedAlarm {
  condition: string;
  by: string;
  since: number;
}

/** A condition whose data were there but did not decide. */
export interface UndecidedAlarm {
  condition: string;
  why: string;
}

/** State of an evaluator as plain JSON: only what is not normal, each memory as a short array. */
export interface AlarmState {
  v: 1;
  /** Time of the last sample, Unix s; null before the first. */
  t: number | null;
  c: Record<string, number[]>;
  /** When the valve was last seen to open, and whether it is open now; see `RecentPast`. */
  opened?: number | null;
  open?: boolean | null;
  /** Delivery of a warm body: time, line, cylinder, line at rest; see `RecentPast`. */
  warm?: [number, number, number, number?];
  /** The body has been cold since it last closed warm. */
  cold?: boolean;
  fell?: number;
  /** What each active one said last while it held. */
  words?: Record<string, SaidAlarm>;
}

export interface AlarmEvaluator {
  /**
   * Judges one moment and returns the alarms that are active after deadband, delays and
   * suppression by design, the loudest first. Steps come in the order of `t`; an earlier `t` is
   * judged too, but adds nothing to delays. Never throws on data that fit the snapshot's type.
   */
  step(snapshot: StationSnapshot): ActiveAlarm[];
  /** Active conditions left out of the last step, and which one explains each. */
  suppressed(): readonly SuppressedAlarm[];
  /** Conditions that could not decide at the last step though data were there, with the reason. */
  undecided(): UndecidedAlarm[];
  serialise(): AlarmState;
  /** Continues exactly where `state` was taken; conditions that no longer exist are left out. */
  restore(state: AlarmState): void;
}

/** For each condition, which others explain it, as indices. */
function suppressorsOf(conditions: readonly AlarmCondition[]): number[][] {
  return conditions.map((condition) =>
    conditions.flatMap((other, j) => (other.suppresses.includes(condition.condition) ? [j] : [])),
  );
}

/**
 * Runs deadband, on-delay, off-delay and suppression by design (IEC 62682 / ISA-18.2) for one
 * station. Pure: its only time is the snapshot's.
 */
export function createAlarmEvaluator(
  conditions: readonly AlarmCondition[] = alarmConditions,
): AlarmEvaluator {
  const suppressors = suppressorsOf(conditions);
  const memories = conditions.map(freshMemory);
  const verdicts: Verdict[] = conditions.map(() => null);
  let lastT: number | null = null;
  const past: RecentPast = { openedT: null, warm: null, fellK: null };
  /** Gas stood at the regulator at the last moment that was judged; null before the first. */
  let wasOpen: boolean | null = null;
  /** What each active one said last while it held: figures of a good moment would belie its title. */
  const words: (SaidAlarm | null)[] = conditions.map(() => null);
  let suppressedNow: SuppressedAlarm[] = [];

  function notePast(snapshot: StationSnapshot): void {
    const { mode, t } = snapshot;
    if (mode === "silent") return;
    const open = mode === "idle" || mode === "flowing";
    if (open && wasOpen === false) past.openedT = t;
    wasOpen = open;
    past.warm = noteWarmDelivery(past.warm, snapshot);
    if (coldHasBegun(snapshot, past.warm)) {
      past.fellK = Math.max(past.fellK ?? 0, snapshot.regulatorK ?? 0);
    }
  }

  const onDelayS = (i: number) => verdicts[i]?.onDelayS ?? conditions[i].onDelayS;

  /** Index of the condition that explains condition `i` now, or -1. */
  function explainedBy(i: number): number {
    const memory = memories[i];
    for (const j of suppressors[i]) if (memories[j].phase === "active") return j;
    if (memory.shown) return -1;
    for (const j of suppressors[i]) {
      if (memories[j].phase !== "pending") continue;
      // What is about to explain it holds it back, but not for longer than its own delay.
      if (memory.trueS - onDelayS(i) <= onDelayS(j)) return j;
    }
    return -1;
  }

  /** Judges every condition; true where any is active. */
  function judge(snapshot: StationSnapshot): boolean {
    const dt = lastT === null ? 0 : Math.min(Math.max(0, snapshot.t - lastT), longestStepS);
    const silent = snapshot.mode === "silent";
    // What a silent node kept may still come: its time has not passed yet.
    if (!silent || lastT === null) lastT = snapshot.t;
    notePast(snapshot);
    let any = false;
    for (let i = 0; i < conditions.length; i++) {
      const condition = conditions[i];
      const memory = memories[i];
      const verdict =
        silent && !condition.judgedWhenSilent
          ? null
          : condition.evaluate(snapshot, memory.phase === "active", past);
      verdicts[i] = verdict;
      advance(memory, condition, verdict, snapshot.t, dt);
      if (memory.phase === "active") any = true;
      else words[i] = null;
    }
    return any;
  }

  function describe(snapshot: StationSnapshot, i: number, hidden: readonly string[]): ActiveAlarm {
    const { since, priority: rank, last } = memories[i];
    const priority = priorities[rank];
    const kept = last === "true" ? null : words[i];
    const said = kept ?? conditions[i].describe(snapshot, { since, priority, hidden });
    if (last === "true") words[i] = said;
    const text = sayAlarm(
      said,
      alarmLanguages[snapshot.language ?? "en"],
      siteSayUnits(snapshot.station.flowDevice?.readingUnit, snapshot.units),
    );
    return {
      condition: conditions[i].condition,
      priority,
      since,
      ...(last === "false" ? { ending: true } : {}),
      title: text?.title ?? conditions[i].title,
      advice: text?.advice ?? conditions[i].operatorAction,
      said,
    };
  }

  return {
    step(given) {
      const snapshot = soundSnapshot(given);
      const any = judge(snapshot);
      const before = suppressedNow;
      if (before.length > 0) suppressedNow = [];
      if (!any) return [];
      const shown: number[] = [];
      const hidden: string[][] = [];
      for (let i = 0; i < conditions.length; i++) {
        const memory = memories[i];
        if (memory.phase !== "active") continue;
        const by = explainedBy(i);
        // What is over by the time that nothing explains it any more never shows: it ends where it was hidden.
        const over =
          by < 0 && memory.last === "false"
            ? before.find(({ condition }) => condition === conditions[i].condition)
            : undefined;
        if (over !== undefined) {
          suppressedNow.push({ ...over, since: memory.since });
          continue;
        }
        if (by < 0) {
          memory.shown = true;
          shown.push(i);
          continue;
        }
        const { condition } = conditions[i];
        suppressedNow.push({ condition, by: conditions[by].condition, since: memory.since });
        hidden[by] = [...(hidden[by] ?? []), condition];
        if (conditions[by].inheritsPriority && memory.priority > memories[by].priority) {
          memories[by].priority = memory.priority;
        }
      }
      return shown.map((i) => describe(snapshot, i, hidden[i] ?? []));
    },

    suppressed: () => suppressedNow,

    undecided() {
      const out: UndecidedAlarm[] = [];
      for (let i = 0; i < conditions.length; i++) {
        const why = verdicts[i]?.cannotTell;
        if (why !== undefined) out.push({ condition: conditions[i].condition, why });
      }
      return out;
    },

    serialise() {
      const c: Record<string, number[]> = {};
      for (let i = 0; i < conditions.length; i++) {
        if (memories[i].phase !== "normal") c[conditions[i].condition] = pack(memories[i]);
      }
      const { openedT: opened, warm } = past;
      const state: AlarmState = { v: 1, t: lastT, c, opened, open: wasOpen };
      if (warm !== null) {
        state.warm = [warm.t, warm.linePa, warm.cylinderPa];
        if (warm.restPa !== null) state.warm.push(warm.restPa);
      }
      if (warm?.cold) state.cold = true;
      if (past.fellK !== null) state.fell = past.fellK;
      for (let i = 0; i < conditions.length; i++) {
        const said = words[i];
        if (said !== null) state.words = { ...state.words, [conditions[i].condition]: said };
      }
      return state;
    },

    restore(state) {
      lastT = state.t;
      past.openedT = state.opened ?? null;
      wasOpen = state.open ?? null;
      const [t, linePa, cylinderPa, restPa] = state.warm ?? [];
      past.warm =
        t === undefined || linePa === undefined || cylinderPa === undefined
          ? null
          : { t, linePa, cylinderPa, restPa: restPa ?? null, cold: state.cold ?? false };
      past.fellK = state.fell ?? null;
      suppressedNow = [];
      for (let i = 0; i < conditions.length; i++) {
        verdicts[i] = null;
        unpack(memories[i], state.c[conditions[i].condition]);
        words[i] = state.words?.[conditions[i].condition] ?? null;
      }
    },
  };
}
