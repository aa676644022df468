/**
 * Sees gas-on and gas-off in the line pressure alone. When the torch valve opens, the line falls
 * from the regulator's lock-up pressure; when it closes, the line rises again. Both happen within
 * about a second, while leaks, warmth and creep need minutes. The node needs this only to report
 * and warn at the right time: the true flow is worked out elsewhere, from the same pressures.
 */

export type Gas = "on" | "off" | "unknown";

/** What the last turn showed. */
export type GasEdge = "none" | "gas-on" | "gas-off";

const depth = 6; // turns compared: 1.5 s at 4 Hz
const leastStepPa = 3000;
const backTurnsNeeded = 20;
const emptyShare = 0.008; // of range: an unloaded line reads within this of zero

export interface GasWatch {
  gas: Gas;
  /** True while the line has moved within the last turns. */
  moving: boolean;
  /** The last `depth` pressures, a ring. */
  recent: number[];
  next: number;
  filled: number;
  /** Mean step between neighbouring turns, Pa: how much the sensor trembles. */
  tremblePa: number;
  /** Line pressure before gas-on, and how far it fell. */
  staticPa: number;
  dropPa: number;
  /** Turns since the last edge, at most 10,000. */
  turns: number;
  /** Turns in a row with a steady line and no arc. */
  quietTurns: number;
  /** Turns in a row with gas on and the line back at its static pressure. */
  backTurns: number;
  emptyTurns: number;
}

export function createGasWatch(): GasWatch {
  return {
    gas: "unknown",
    moving: false,
    recent: [0, 0, 0, 0, 0, 0],
    next: 0,
    filled: 0,
    tremblePa: 300,
    staticPa: 0,
    dropPa: 0,
    turns: 0,
    quietTurns: 0,
    backTurns: 0,
    emptyTurns: 0,
  };
}

function become(watch: GasWatch, gas: Gas, edge: GasEdge): GasEdge {
  watch.gas = gas;
  watch.turns = 0;
  watch.quietTurns = 0;
  watch.backTurns = 0;
  return edge;
}

/** The line gave no value: nothing is known until it is seen to move again. */
export function loseLine(watch: GasWatch): GasEdge {
  const was = watch.gas;
  watch.filled = 0;
  watch.moving = false;
  watch.emptyTurns = 0;
  watch.gas = "unknown";
  return was === "on" ? "gas-off" : "none";
}

function fellWhileOff(watch: GasWatch, pressurePa: number, stepPa: number): GasEdge {
  const { recent } = watch;
  let highest = recent[0];
  for (let index = 1; index < depth; index++) highest = Math.max(highest, recent[index]);
  if (highest - pressurePa < stepPa) return "none";
  watch.staticPa = highest;
  watch.dropPa = highest - pressurePa;
  return become(watch, "on", "gas-on");
}

function roseWhileOn(watch: GasWatch, pressurePa: number, stepPa: number): GasEdge {
  const { recent } = watch;
  // The surge at the start digs deeper than the flow that follows: follow the drop for 2 s.
  if (watch.turns < 8) watch.dropPa = Math.max(watch.dropPa, watch.staticPa - pressurePa);
  let lowest = recent[0];
  for (let index = 1; index < depth; index++) lowest = Math.min(lowest, recent[index]);
  const back = watch.dropPa > 2 * stepPa && pressurePa > watch.staticPa - stepPa;
  watch.backTurns = back ? watch.backTurns + 1 : 0;
  const rose = pressurePa - lowest >= Math.max(stepPa, watch.dropPa * 0.3);
  if (watch.turns < 3 || !(rose || watch.backTurns >= backTurnsNeeded)) return "none";
  // Higher than lock-up ever was: somebody turns the regulator up, perhaps with gas flowing.
  const turnedUp = pressurePa > watch.staticPa + 2 * stepPa + watch.dropPa;
  return become(watch, turnedUp ? "unknown" : "off", "gas-off");
}

/** An empty line carries no gas, whatever was before. */
function isEmpty(watch: GasWatch, pressurePa: number, rangePa: number): boolean {
  watch.emptyTurns = pressurePa < rangePa * emptyShare ? watch.emptyTurns + 1 : 0;
  return watch.emptyTurns >= 2;
}

/**
 * Takes one turn's line pressure. `quietTurns` is how long a steady line must have been seen, with
 * no arc, before an unknown state counts as off.
 */
export function watchLine(
  watch: GasWatch,
  pressurePa: number,
  rangePa: number,
  arc: boolean,
  quietTurns: number,
): GasEdge {
  const { recent } = watch;
  const full = watch.filled >= depth;
  const last = recent[(watch.next + depth - 1) % depth];
  const oldest = recent[watch.next];
  const stepPa = Math.max(leastStepPa, watch.tremblePa * 8);
  if (watch.filled > 0) {
    const tremble = Math.min(Math.abs(pressurePa - last), leastStepPa);
    watch.tremblePa += (tremble - watch.tremblePa) * 0.02;
  }
  watch.moving = full && Math.abs(pressurePa - oldest) > stepPa * 0.75;
  watch.turns = Math.min(10000, watch.turns + 1);
  watch.quietTurns = arc || watch.moving ? 0 : Math.min(10000, watch.quietTurns + 1);
  let edge: GasEdge = "none";
  if (isEmpty(watch, pressurePa, rangePa)) {
    if (watch.gas !== "off") edge = become(watch, "off", watch.gas === "on" ? "gas-off" : "none");
  } else if (full && watch.gas === "on") {
    edge = roseWhileOn(watch, pressurePa, stepPa);
  } else if (full) {
    edge = fellWhileOff(watch, pressurePa, stepPa);
    if (edge === "none" && watch.gas === "unknown")
      settleUnknown(watch, pressurePa, stepPa, quietTurns);
  }
  if (edge !== "none") watch.filled = 0;
  recent[watch.next] = pressurePa;
  watch.next = (watch.next + 1) % depth;
  watch.filled = Math.min(depth, watch.filled + 1);
  return edge;
}

function settleUnknown(
  watch: GasWatch,
  pressurePa: number,
  stepPa: number,
  quietTurns: number,
): void {
  const rose = pressurePa - watch.recent[watch.next] >= stepPa;
  if (rose || watch.quietTurns >= quietTurns) become(watch, "off", "none");
}
