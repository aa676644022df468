import type { Plant } from "../plant/plant-interface.ts";
import type { Random } from "../plant/random.ts";
import type { Actor, ActorLog } from "../plant/welder.ts";

/** What a script of a station's day works with. `t` is the shop's time at each line of it. */
export interface Scene {
  plant: Plant;
  random: Random;
  log: ActorLog;
  t: number;
}

/** A script yields how many seconds pass until its next line. */
export type Script = Generator<number, void, void>;

/** Plays a script on a plant. */
export class ScriptActor implements Actor {
  nextS: number;
  private readonly scene: Scene;
  private readonly script: Script;

  constructor(scene: Scene, script: (scene: Scene) => Script) {
    this.scene = scene;
    this.nextS = scene.t;
    this.script = script(scene);
  }

  act(): void {
    this.scene.t = this.nextS;
    const line = this.script.next();
    this.nextS = line.done ? Number.POSITIVE_INFINITY : this.nextS + Math.max(0.01, line.value);
  }
}

/** Drawn evenly in the logarithm between two times. */
export function span(scene: Scene, low: number, high: number): number {
  return low * (high / low) ** scene.random.next();
}

export function gas(scene: Scene, on: boolean): void {
  const input = scene.plant.inputs.drops[0];
  if (!input || input.torchOpen === on) return;
  input.torchOpen = on;
  scene.log.event({ t: scene.t, event: on ? "gas-on" : "gas-off" });
}

export function arc(scene: Scene, on: boolean): void {
  const input = scene.plant.inputs.drops[0];
  if (!input || input.arc === on) return;
  input.arc = on;
  scene.log.event({ t: scene.t, event: on ? "arc-on" : "arc-off" });
}

export function valve(scene: Scene, open: boolean): void {
  scene.plant.inputs.cylinderValveOpen = open;
  scene.log.event({ t: scene.t, event: open ? "valve-opened" : "valve-closed" });
}

/** One weld: pre-flow, arc, post-flow. */
export function* weld(scene: Scene, preflowS: number, arcS: number, postflowS: number): Script {
  gas(scene, true);
  yield preflowS;
  arc(scene, true);
  yield arcS;
  arc(scene, false);
  yield postflowS;
  gas(scene, false);
}

/** Gauge pressure that the high side has now, Pa. */
export function cylinderGaugePa(scene: Scene): number {
  const truth = scene.plant.truth();
  return truth.highSidePa - truth.airPa;
}

/** A cylinder change: valve closed, line emptied, another one fitted, valve opened. */
export function* changeCylinder(
  scene: Scene,
  fill: Parameters<Plant["swap"]>[0],
  said: Parameters<ActorLog["person"]>[1],
): Script {
  valve(scene, false);
  const input = scene.plant.inputs.drops[0];
  if (input) input.torchOpen = true;
  yield 45;
  if (input) input.torchOpen = false;
  yield scene.random.between(80, 180);
  scene.plant.swap(fill);
  scene.log.event({ t: scene.t, event: "swap" });
  valve(scene, true);
  scene.log.person(scene.t + 20, said);
  yield scene.random.between(40, 90);
}
