/**
 * What the node warns of by itself, with or without a network: lamp and buzzer. Two conditions
 * sound at once, since a welder under the hood sees no wall: an arc without gas, and a line pressure
 * below its least while gas is on. All others light the lamp and sound when the arc has ended, so
 * that nobody is startled in a root pass.
 *
 * Patterns are our own: one character a turn of 250 ms, "1" on.
 */
import type { NodeConfig } from "./node-config.ts";
import type { Ports } from "./ports.ts";

/** Most urgent first. */
const patterns: readonly { lamp: string; buzzer: string }[] = [
  { lamp: "10", buzzer: "1110" }, // arc without gas
  { lamp: "1100", buzzer: "1100" }, // line pressure below its least
  { lamp: "10100000", buzzer: "1010100000" }, // line pressure near its limit
  { lamp: "1000000000000000", buzzer: "1010000000" }, // cylinder near its residual pressure
  { lamp: "1010101000000000", buzzer: "1000000000" }, // sensor fault
  { lamp: "10100000000000000000000000000000", buzzer: "0" }, // gateway not heard: never sounds
];
const count = patterns.length;
export const arcWithoutGas = 0;
export const lineLow = 1;
export const lineHigh = 2;
export const cylinderLow = 3;
export const sensorFault = 4;
export const gatewayLost = 5;

const silencedTurns = 240; // a minute
const repeatTurns = 2400; // ten minutes

export interface Warnings {
  ports: Ports;
  /** Turns in a row for which each condition has held, and whether it warns. */
  held: number[];
  active: boolean[];
  /** Position in the pattern; turns since the buzzer sounded for what lasts. */
  step: number;
  /** Warning whose sound is owed, and the turns of it that are left; -1 none. */
  sounding: number;
  soundTurns: number;
  owed: number;
  sinceSound: number;
  silenced: number;
  lampOn: boolean;
  buzzerOn: boolean;
  /** A person's signal: turns left. */
  lampTurns: number;
  buzzerTurns: number;
  identifyTurns: number;
}

export function createWarnings(ports: Ports): Warnings {
  const held: number[] = [];
  const active: boolean[] = [];
  for (let index = 0; index < count; index++) {
    held.push(0);
    active.push(false);
  }
  return {
    ports,
    held,
    active,
    step: 0,
    sounding: -1,
    soundTurns: 0,
    owed: -1,
    sinceSound: 0,
    silenced: 0,
    lampOn: false,
    buzzerOn: false,
    lampTurns: 0,
    buzzerTurns: 0,
    identifyTurns: 0,
  };
}

/**
 * Tells whether a condition holds this turn. It warns after `onTurns` in a row, and stops after
 * `offTurns` without.
 */
export function judgeWarning(
  warnings: Warnings,
  which: number,
  holds: boolean,
  onTurns: number,
  offTurns: number,
): void {
  const before = warnings.held[which];
  if (holds) {
    const turns = before < 0 ? 1 : Math.min(before + 1, 10000);
    warnings.held[which] = turns;
    if (turns >= onTurns && !warnings.active[which]) {
      warnings.active[which] = true;
      const sounds = which > lineLow && which < gatewayLost;
      if (sounds && (warnings.owed < 0 || which < warnings.owed)) warnings.owed = which;
    }
  } else {
    const turns = before > 0 ? -1 : Math.max(before - 1, -10000);
    warnings.held[which] = turns;
    if (-turns >= offTurns) warnings.active[which] = false;
  }
}

/** Most urgent active warning; -1 where all is quiet. */
export function mostUrgent(warnings: Warnings): number {
  for (let index = 0; index < count; index++) {
    if (warnings.active[index]) return index;
  }
  return -1;
}

function patternOn(pattern: string, step: number): boolean {
  const at = (step % pattern.length) + 1;
  return string.sub(pattern, at, at) === "1";
}

function setOutputs(warnings: Warnings, config: NodeConfig, lamp: boolean, buzzer: boolean): void {
  const lampOn = lamp && config.lamp;
  const buzzerOn = buzzer && config.buzzer;
  if (lampOn !== warnings.lampOn) warnings.ports.lamp(lampOn);
  if (buzzerOn !== warnings.buzzerOn) warnings.ports.buzzer(buzzerOn);
  warnings.lampOn = lampOn;
  warnings.buzzerOn = buzzerOn;
}

/** Quiet warnings sound once when they come, but never while somebody welds. */
function startOwedSound(warnings: Warnings, urgent: number, welding: boolean): void {
  warnings.sinceSound = Math.min(warnings.sinceSound + 1, repeatTurns);
  const quiet = urgent > lineLow && urgent < gatewayLost;
  if (warnings.owed < 0 && quiet && warnings.sinceSound >= repeatTurns) {
    warnings.owed = urgent;
  }
  if (warnings.owed < 0 || welding || warnings.sounding >= 0) return;
  if (warnings.active[warnings.owed]) {
    warnings.sounding = warnings.owed;
    warnings.soundTurns = patterns[warnings.owed].buzzer.length;
    warnings.sinceSound = 0;
    warnings.step = 0;
  }
  warnings.owed = -1;
}

/** Drives lamp and buzzer; once a turn. `welding`: an arc, or gas on where arcs are not seen. */
export function showWarnings(warnings: Warnings, config: NodeConfig, welding: boolean): void {
  const urgent = mostUrgent(warnings);
  if (warnings.ports.readButton()) warnings.silenced = silencedTurns;
  warnings.silenced = Math.max(0, warnings.silenced - 1);
  startOwedSound(warnings, urgent, welding);
  let lamp = urgent >= 0 && patternOn(patterns[urgent].lamp, warnings.step);
  let buzzer = false;
  if (urgent === arcWithoutGas || urgent === lineLow) {
    buzzer = patternOn(patterns[urgent].buzzer, warnings.step);
    // An arc without gas cannot be silenced: stopping the arc does it.
    if (urgent === lineLow && warnings.silenced > 0) buzzer = false;
  } else if (warnings.sounding >= 0) {
    buzzer =
      patternOn(patterns[warnings.sounding].buzzer, warnings.step) && warnings.silenced === 0;
  }
  if (warnings.sounding >= 0) {
    warnings.soundTurns -= 1;
    if (warnings.soundTurns <= 0 || welding) warnings.sounding = -1;
  }
  if (warnings.identifyTurns > 0) lamp = patternOn("1110", warnings.step);
  if (warnings.lampTurns > 0) lamp = true;
  if (warnings.buzzerTurns > 0 && !welding) buzzer = true;
  warnings.identifyTurns = Math.max(0, warnings.identifyTurns - 1);
  warnings.lampTurns = Math.max(0, warnings.lampTurns - 1);
  warnings.buzzerTurns = Math.max(0, warnings.buzzerTurns - 1);
  warnings.step += 1;
  if (warnings.step >= 960) warnings.step = 0;
  setOutputs(warnings, config, lamp, buzzer);
}
