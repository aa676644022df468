import type { Plant } from "../../gateway/virtual-shop/plant/plant.ts";
import { createRandom } from "../../gateway/virtual-shop/plant/random.ts";
import type { EventLog } from "../../gateway/virtual-shop/plant/run.ts";
import type { Actor } from "../../gateway/virtual-shop/plant/welder.ts";
import { once, startUnixS } from "./simulate.ts";

/** A welder without shifts: gas on for `onS`, off for `offS`, from `fromS` after the start. */
export class Cycle implements Actor {
  nextS: number;
  private on = false;
  private readonly log: EventLog;
  private readonly onS: [number, number];
  private readonly offS: [number, number];
  private readonly random: ReturnType<typeof createRandom>;
  private readonly untilS: number;

  constructor(
    log: EventLog,
    seed: number,
    onS: [number, number],
    offS: [number, number],
    fromS = 300,
    untilS = Number.POSITIVE_INFINITY,
  ) {
    this.log = log;
    this.onS = onS;
    this.offS = offS;
    this.random = createRandom(seed, 41);
    this.nextS = startUnixS + fromS + this.random.next();
    this.untilS = startUnixS + untilS;
  }

  act(plant: Plant): void {
    const t = this.nextS;
    this.on = !this.on && t < this.untilS;
    const input = plant.inputs.drops[0];
    if (input) input.torchOpen = this.on;
    this.log.event({ t, event: this.on ? "gas-on" : "gas-off" });
    const [low, high] = this.on ? this.onS : this.offS;
    this.nextS =
      !this.on && t >= this.untilS ? Number.POSITIVE_INFINITY : t + this.random.between(low, high);
  }
}

/** Turns the float's needle, once. */
export function reDial(log: EventLog, hours: number, factor: number): Actor {
  return once(startUnixS + hours * 3600, (plant) => {
    const input = plant.inputs.drops[0];
    if (input) input.needle *= factor;
    log.event({ t: startUnixS + hours * 3600, event: "re-dial", ratio: factor });
  });
}
