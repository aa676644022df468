import { type PackedCandidate, packCandidate, unpackCandidate } from "./change-watch.ts";
import type { SupplySetup } from "./engine.ts";
import { planSupply, type SupplyPlan } from "./plan.ts";
import {
  decodeState,
  encodeState,
  fromLowerTriangle,
  lowerTriangle,
  packState,
  unpackState,
} from "./state-codec.ts";
import {
  addAir,
  BODY_ZERO_BEFORE_13,
  migrateVersion3,
  namesBefore,
  partOffset,
  splitLoop,
  splitReminder,
} from "./state-migration.ts";
import { createState, type EngineState } from "./supply-state.ts";

/** Bump when `EngineState` changes its shape or meaning; say in `state-migration.ts` what is kept. */
const STATE_VERSION = 17;

/** An engine's memory as a few kilobytes of JSON: its documents as they are, the rest packed. */
export function writeState(plan: SupplyPlan, state: EngineState): string {
  const { filter, leak } = state;
  const packed = {
    ...state,
    filter: { ...filter, p: lowerTriangle(filter.p, filter.x.length) },
    leak: { ...leak, p: lowerTriangle(leak.p, leak.x.length) },
    candidates: state.candidates.map(packCandidate),
    alarms: state.alarms.map((list, i) => list.map((one) => withoutWords(state, i, one))),
  };
  const shape = createState(plan, state.every);
  return JSON.stringify({
    version: STATE_VERSION,
    every: state.every,
    setup: plan.setup,
    state: encodeState([shapeOf(shape), packState(packed, shape)]),
  });
}

/**
 * What `writeState` wrote, here or in an earlier version.
 * @throws SyntaxError or Error where the text is no such state
 */
export function readState(text: string): { plan: SupplyPlan; state: EngineState } {
  const saved = JSON.parse(text) as {
    version?: number;
    every?: number;
    setup?: SupplySetup;
    state?: unknown;
  };
  if (typeof saved !== "object" || saved === null || saved.setup === undefined) {
    throw new Error("not an estimator state: create a new engine from the documents");
  }
  const plan = planSupply(saved.setup);
  const fresh = createState(plan, saved.every ?? 10);
  if (saved.version === 3) {
    return { plan, state: migrateVersion3(saved.state, fresh, plan.filter.waterVolumeM3) };
  }
  // A state of another shape is not guessed at: what it had learnt is learnt anew.
  const then = namesBefore(saved.version ?? 0, STATE_VERSION, fresh);
  if (then === null || typeof saved.state !== "string") return { plan, state: fresh };
  const [shape, packed] = decodeState(saved.state) as [unknown, unknown];
  if (shape !== shapeOf(then)) return { plan, state: fresh };
  const state = unpackState(packed, fresh) as EngineState;
  state.alarms.forEach((list, i) => {
    for (const one of list) one.said ??= heldWords(state, i, one.condition) ?? nothingSaid;
  });
  const dense = state.filter.x.length;
  state.filter.p = fromLowerTriangle(state.filter.p, dense);
  state.leak.p = fromLowerTriangle(state.leak.p, state.leak.x.length);
  if ((saved.version ?? 0) < 9) {
    splitLoop(state, fresh);
    state.candidates = [];
  } else {
    state.candidates = (state.candidates as unknown as PackedCandidate[]).map(unpackCandidate);
  }
  if ((saved.version ?? 0) < 15) addAir(state, fresh);
  if ((saved.version ?? 0) < 16) splitReminder(state.drops);
  if ((saved.version ?? 0) < 11) partOffset(state.filter, fresh.filter);
  if ((saved.version ?? 0) < 13) state.filter.bodyZeroK = BODY_ZERO_BEFORE_13;
  return { plan, state };
}

type KeptAlarm = EngineState["alarms"][number][number];

const nothingSaid: KeptAlarm["said"] = { title: [], advice: [] };

/** What the drop's conditions remember to have said. */
function heldWords(state: EngineState, drop: number, condition: string): KeptAlarm["said"] | null {
  return state.alarmStates[drop]?.words?.[condition] ?? null;
}

/** An alarm whose words its condition remembers too is written with them once. */
function withoutWords(state: EngineState, drop: number, alarm: KeptAlarm): object {
  const held = heldWords(state, drop, alarm.condition);
  const same = held !== null && JSON.stringify(held) === JSON.stringify(alarm.said);
  return same ? { ...alarm, said: null } : alarm;
}

/** A number that tells one order of field names from another (FNV-1a, 31 bits). */
function shapeOf(state: unknown): number {
  let hash = 0x811c9dc5;
  const walk = (value: unknown): void => {
    if (typeof value !== "object" || value === null || ArrayBuffer.isView(value)) return;
    for (const [name, entry] of Object.entries(value)) {
      for (let k = 0; k < name.length; k++) {
        hash = Math.imul(hash ^ name.charCodeAt(k), 0x01000193);
      }
      walk(entry);
    }
  };
  walk(state);
  return hash >>> 1;
}
