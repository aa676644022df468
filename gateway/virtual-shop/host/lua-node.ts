import type { LuaEngine, LuaFactory } from "wasmoon";
import type { Plant } from "../plant/plant-interface.ts";
import type { PressureChannel, TemperatureChannel } from "../plant/sensors.ts";
import { LuaDoor, nil } from "./lua-door.ts";

/** The way from a node to its broker: the real one, or the gateway's door while the past is made up. */
export interface NodeTransport {
  connect(willTopic: string, willPayload: string): void;
  publish(topic: string, payload: string, qos: number, retain: boolean): boolean;
  subscribe(topic: string, qos: number): boolean;
  close(): void;
}

/** What a transport tells its node; each call is delivered outside of the node's own calls. */
export interface NodeEars {
  connected(): void;
  disconnected(reason: string): void;
  published(): void;
  message(topic: string, payload: string): void;
}

export interface LuaNodeOptions {
  site: string;
  node: string;
  /** EUI-48 as 12 hexadecimal digits, or "". */
  hardwareAddress: string;
  /** Random number of this start, 1 to 2147483647. */
  random: number;
  plant: Plant;
  drop: number;
  /** Flash that survives restarts of the VM. */
  files: Map<string, string>;
  onLamp?(on: boolean): void;
  onBuzzer?(on: boolean): void;
  onLog?(line: string): void;
}

const supplyUv = 5_000_000;
const stepUv = 187.5;

/** Whole seconds and microseconds of a time, at `at` and `at + 1`. */
function wholeAndMicro(timeS: number, out: Float64Array, at: number): void {
  const seconds = Math.floor(timeS + 5e-7);
  out[at] = seconds;
  out[at + 1] = Math.max(0, Math.round((timeS - seconds) * 1e6));
}

/** Raw converter reading of a ratiometric 0.5 … 4.5 V transducer, whole microvolts. */
function rawUv(channel: PressureChannel): number {
  if (channel.fault === "open") return 0;
  if (channel.fault === "short") return supplyUv;
  const uv = supplyUv * (0.1 + (0.8 * channel.read()) / channel.config.rangePa);
  return Math.round(Math.round(Math.min(supplyUv, Math.max(0, uv)) / stepUv) * stepUv);
}

/**
 * Lua beside the bundle: readings are handed over once a turn in one call, and the ports give them
 * from there. `unixTime` is the turn's.
 */
const frame = (bundle: string) => `
local ports = {}
for name, value in pairs(leewardPorts) do ports[name] = value end
local a1, a2, a3, a4, a5, b1, b2, b3, b4, b5, supply, wall, body, air, arc
local unixS, unixUs = 0, 0
ports.readAdc = function(channel)
  if channel == 1 then return a1, a2, a3, a4, a5 end
  if channel == 2 then return b1, b2, b3, b4, b5 end
  return supply, supply, supply, supply, supply
end
ports.readTemperature = function(probe)
  if probe == 1 then return wall elseif probe == 2 then return body end
  return air
end
ports.readArc = function()
  if arc == nil then return nil end
  return arc ~= 0
end
ports.readButton = function() return false end
ports.unixTime = function() return unixS, unixUs end
local node = (function(...) ${bundle}
end)().start(ports)
function leewardTick(s, us, unix, unixMicro, l1, l2, l3, l4, l5, c1, c2, c3, c4, c5, v, t1, t2, t3, current)
  unixS, unixUs = unix, unixMicro
  a1, a2, a3, a4, a5, b1, b2, b3, b4, b5 = l1, l2, l3, l4, l5, c1, c2, c3, c4, c5
  supply, wall, body, air, arc = v, t1, t2, t3, current
  node.tick(s, us)
end
leewardConnected = node.connected
leewardDisconnected = node.disconnected
leewardPublished = node.published
leewardMessage = node.message
leewardUpdateReady = node.updateReady
`;

interface Handles {
  tick: number;
  connected: number;
  disconnected: number;
  published: number;
  message: number;
  updateReady: number;
}

function temperature(channel: TemperatureChannel | null): number {
  if (!channel) return nil;
  return channel.fault === "open" ? -1000 : channel.read();
}

/**
 * A virtual node: the real firmware bundle in a Lua VM of its own, with the plant's sensors behind
 * its converter and probes. Time is what `tick` is given.
 */
export class LuaNode implements NodeEars {
  private readonly factory: LuaFactory;
  private readonly bundle: string;
  private readonly options: LuaNodeOptions;
  private engine: LuaEngine | null = null;
  private door: LuaDoor | null = null;
  private handles: Handles | null = null;
  private readonly turn = new Float64Array(19);
  private transport: NodeTransport | null = null;
  private startS = 0;
  private inside = false;
  private readonly later: ((door: LuaDoor, handles: Handles) => void)[] = [];
  private wantsRestart = false;

  constructor(factory: LuaFactory, bundle: string, options: LuaNodeOptions) {
    this.factory = factory;
    this.bundle = bundle;
    this.options = options;
  }

  /** Starts the VM at `nowS`. Throws where the bundle does not load. */
  async powerOn(nowS: number, reset = "power-on"): Promise<void> {
    const engine = await this.factory.createEngine({ enableProxy: false });
    engine.global.set("leewardPorts", this.ports(reset));
    engine.doStringSync(frame(this.bundle));
    const door = new LuaDoor(engine);
    this.door = door;
    this.handles = {
      tick: door.find("leewardTick"),
      connected: door.find("leewardConnected"),
      disconnected: door.find("leewardDisconnected"),
      published: door.find("leewardPublished"),
      message: door.find("leewardMessage"),
      updateReady: door.find("leewardUpdateReady"),
    };
    this.engine = engine;
    this.startS = nowS;
  }

  powerOff(): void {
    this.transport?.close();
    this.engine?.global.close();
    this.engine = null;
    this.door = null;
    this.handles = null;
    this.later.length = 0;
  }

  get running(): boolean {
    return this.door !== null;
  }

  /** Swaps what lies between node and broker; the node sees its connection end. */
  use(transport: NodeTransport): void {
    const had = this.transport;
    this.transport = transport;
    if (had) {
      had.close();
      this.disconnected("moved to another broker");
    }
  }

  /** One turn of the node at `nowS` of the shop's time. */
  tick(nowS: number): void {
    const { turn, options } = this;
    const sensors = options.plant.sensors;
    wholeAndMicro(nowS - this.startS, turn, 0);
    wholeAndMicro(nowS, turn, 2);
    const line = sensors.lines[options.drop] ?? null;
    for (let i = 0; i < 5; i += 1) {
      turn[4 + i] = line ? rawUv(line) : nil;
      turn[9 + i] = rawUv(sensors.cylinder);
    }
    turn[14] = supplyUv;
    turn[15] = temperature(sensors.wall);
    turn[16] = temperature(sensors.body);
    turn[17] = temperature(sensors.air);
    const arc = options.plant.inputs.drops[options.drop]?.arc ?? false;
    turn[18] = options.plant.config.sensors.arc ? Number(arc) : nil;
    this.enter((door, handles) => door.numbers(handles.tick, turn));
  }

  /** True once after the firmware asked for a restart. */
  takeRestart(): boolean {
    const wants = this.wantsRestart;
    this.wantsRestart = false;
    return wants;
  }

  connected(): void {
    this.enter((door, handles) => door.numbers(handles.connected, []));
  }

  disconnected(reason: string): void {
    this.enter((door, handles) => door.texts(handles.disconnected, reason));
  }

  published(): void {
    this.enter((door, handles) => door.numbers(handles.published, []));
  }

  message(topic: string, payload: string): void {
    this.enter((door, handles) => door.texts(handles.message, topic, payload));
  }

  /** Calls into the VM one at a time: news that arrives during a call waits for its end. */
  private enter(call: (door: LuaDoor, handles: Handles) => void): void {
    if (this.inside) {
      this.later.push(call);
      return;
    }
    this.inside = true;
    try {
      let next: typeof call | undefined = call;
      while (next) {
        if (this.door && this.handles) next(this.door, this.handles);
        next = this.later.shift();
      }
    } finally {
      this.inside = false;
    }
  }

  private ports(reset: string): Record<string, unknown> {
    const { options } = this;
    const { files } = options;
    return {
      site: options.site,
      node: options.node,
      hardwareAddress: options.hardwareAddress,
      reset,
      random: options.random,
      hasFlash: true,
      ringBytes: 60_000,
      lamp: (on: boolean) => options.onLamp?.(on),
      buzzer: (on: boolean) => options.onBuzzer?.(on),
      connect: (willTopic: string, willPayload: string) =>
        this.transport?.connect(willTopic, willPayload),
      publish: (topic: string, payload: string, qos: number, retain: boolean) =>
        this.transport?.publish(topic, payload, qos, retain) ?? false,
      subscribe: (topic: string, qos: number) => this.transport?.subscribe(topic, qos) ?? false,
      close: () => this.transport?.close(),
      readFile: (name: string) => files.get(name),
      writeFile: (name: string, content: string) => {
        files.set(name, content);
        return true;
      },
      appendFile: (name: string, content: string) => {
        files.set(name, (files.get(name) ?? "") + content);
        return true;
      },
      renameFile: (from: string, to: string) => {
        const content = files.get(from);
        if (content === undefined) return false;
        files.delete(from);
        files.set(to, content);
        return true;
      },
      removeFile: (name: string) => {
        files.delete(name);
      },
      listFiles: () => [...files.keys()].join(" "),
      // A virtual node has no loader: it says so instead of pretending.
      fetchUpdate: () => {
        this.enter((door, handles) =>
          door.texts(handles.updateReady, "a virtual node takes no update"),
        );
      },
      restart: () => {
        this.wantsRestart = true;
      },
      confirmUpdate: () => undefined,
      log: (line: string) => options.onLog?.(line),
    };
  }
}
