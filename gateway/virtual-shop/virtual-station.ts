import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { PersonEntry } from "@leeward/shared-core/estimation/engine.ts";
import type { LuaFactory } from "wasmoon";
import { LuaNode, type NodeTransport } from "./host/lua-node.ts";
import { plantConfigFor } from "./plant/from-station.ts";
import { createPlant, type Plant } from "./plant/plant.ts";
import { createRandom } from "./plant/random.ts";
import { EventLog, type TruthPoint, truthPoint } from "./plant/run.ts";
import { ScriptActor } from "./stories/script.ts";
import type { Story, StoryTimes } from "./stories/story.ts";

export interface StationParts {
  story: Story;
  station: StationDocument;
  times: StoryTimes;
  seed: number;
  factory: LuaFactory;
  bundle: string;
  log(line: string): void;
}

/** Idle minutes at the start of a made-up past. */
const quietS = 150;

/** A plant, its welder's script, and its node in a Lua VM, in step. */
export class VirtualStation {
  readonly station: StationDocument;
  readonly plant: Plant;
  readonly node: LuaNode;
  private readonly actor: ScriptActor;
  private readonly events = new EventLog();
  private readonly log: (line: string) => void;
  private told = 0;
  private restarting = false;

  constructor(parts: StationParts) {
    const { story, station, times, seed } = parts;
    this.station = station;
    this.log = parts.log;
    const config = plantConfigFor(station, {
      startUnixS: times.startS,
      ...story.variation(times),
    });
    this.plant = createPlant(config, seed);
    this.plant.setReading(story.reading);
    this.actor = new ScriptActor(
      {
        plant: this.plant,
        random: createRandom(seed, 50),
        log: this.events,
        // The node is up for a few minutes before the day's work begins.
        t: times.startS + quietS + (seed % 60),
      },
      (scene) => story.play(scene, times),
    );
    const name = station.node ?? station.station;
    this.node = new LuaNode(parts.factory, parts.bundle, {
      site: station.site,
      node: name,
      hardwareAddress: hardwareAddress(seed),
      random: 1 + Math.floor(createRandom(seed, 60).next() * 2147483646),
      plant: this.plant,
      drop: 0,
      files: new Map([["boot", String(11 + (seed % 17))]]),
      onLog: (line) => parts.log(`${name}: ${line}`),
    });
  }

  get t(): number {
    return this.plant.t;
  }

  async powerOn(transport: NodeTransport): Promise<void> {
    this.node.use(transport);
    await this.node.powerOn(this.plant.t);
  }

  /** One turn: the plant and its people to `nowS`, then the node. */
  advance(nowS: number): void {
    while (this.actor.nextS <= nowS) {
      if (this.actor.nextS > this.plant.t) this.plant.step(this.actor.nextS - this.plant.t);
      this.actor.act();
    }
    if (nowS > this.plant.t) this.plant.step(nowS - this.plant.t);
    if (this.restarting || !this.node.running) return;
    try {
      this.node.tick(nowS);
      if (this.node.takeRestart()) void this.restart("software");
    } catch (error) {
      this.log(`${this.station.station}: ${(error as Error).message}; its node starts again`);
      void this.restart("watchdog");
    }
  }

  private async restart(reset: string): Promise<void> {
    this.restarting = true;
    this.node.powerOff();
    try {
      await this.node.powerOn(this.plant.t, reset);
    } catch (error) {
      this.log(`${this.station.station}: the node stays off: ${(error as Error).message}`);
    } finally {
      this.restarting = false;
    }
  }

  /** What people have said up to now and was not taken yet. */
  takeSaid(nowS: number): { receivedS: number; entry: PersonEntry }[] {
    const said: { receivedS: number; entry: PersonEntry }[] = [];
    const { persons } = this.events;
    for (let next = persons[this.told]; next && next.received <= nowS; next = persons[this.told]) {
      said.push({ receivedS: next.received, entry: next.person });
      this.told += 1;
    }
    return said;
  }

  truth(): TruthPoint {
    const residual = (this.station.cylinder?.residualBar ?? 0) * 1e5;
    return truthPoint(this.plant, 0, residual);
  }
}

/** A locally administered EUI-48. */
function hardwareAddress(seed: number): string {
  return `02${(seed >>> 0).toString(16).padStart(10, "0").slice(-10)}`;
}
