import { readFileSync } from "node:fs";
import { join } from "node:path";
import { type LuaEngine, LuaFactory, LuaMultiReturn } from "wasmoon";

const bundlePath = join(import.meta.dirname, "../../firmware/dist/leeward-node.lua");
const factory = new LuaFactory();

/** A SenML record as the node writes it. */
export interface SenmlRecord {
  bn?: string;
  bt?: number;
  n: string;
  u?: string;
  v?: number;
  vb?: boolean;
  vs?: string;
  t?: number;
}

export interface Published {
  topic: string;
  payload: string;
  qos: number;
  retain: boolean;
}

interface NodeCalls {
  tick(s: number, us: number): void;
  connected(): void;
  disconnected(reason: string): void;
  published(): void;
  message(topic: string, payload: string): void;
  updateReady(why: string): void;
}

/** What the sensors of a test node see, and how its surroundings behave. Pressures are gauge Pa. */
export interface World {
  linePa: number;
  cylinderPa: number;
  supplyUv: number;
  /** Raw readings (µV) that replace the computed ones, by channel. */
  raw: Record<number, number[] | undefined>;
  noisePa: number;
  temperatures: (number | undefined)[];
  arc: boolean | undefined;
  /** Counts of the scale; undefined where none is fitted. */
  scale: number | undefined;
  button: boolean;
  unixS: number;
  /** The broker accepts connections and acknowledges. */
  brokerUp: boolean;
  /** The gateway stores and says so. */
  gatewayUp: boolean;
  flashFull: boolean;
  /** The broker takes messages and never acknowledges them. */
  silent: boolean;
}

export function quietWorld(): World {
  return {
    linePa: 345_000,
    cylinderPa: 18_000_000,
    supplyUv: 5_000_000,
    raw: {},
    noisePa: 400,
    temperatures: [20, 21, undefined],
    arc: false,
    scale: undefined,
    button: false,
    unixS: 1_764_057_600,
    brokerUp: true,
    gatewayUp: true,
    flashFull: false,
    silent: false,
  };
}

/** Small deterministic noise: Park-Miller, from memory. */
export function createNoise(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

/** A node in a Lua VM, driven through the host port; time passes only by `run`. */
export class TestNode {
  readonly published: Published[] = [];
  readonly packs: SenmlRecord[][] = [];
  lamp = false;
  buzzer = false;
  lampHistory = "";
  buzzerHistory = "";
  will: { topic: string; payload: string } | undefined;
  subscriptions: string[] = [];
  restarts: boolean[] = [];
  sleeps: number[] = [];
  fetches: { url: string; bytes: number; hmac: string }[] = [];
  connects: number[] = [];
  uptimeMs = 0;
  boots = 0;
  publishedWhileDown = 0;
  private link: "down" | "connecting" | "up" = "down";
  private pending: (() => void)[] = [];
  private calls: NodeCalls | undefined;
  private engine: LuaEngine | undefined;
  private readonly random = createNoise(20_251_125);

  constructor(
    readonly world: World,
    readonly files = new Map<string, string>(),
    readonly settings: {
      hasFlash?: boolean;
      ringBytes?: number;
      hardwareAddress?: string;
      site?: string;
      node?: string;
      battery?: boolean;
    } = {},
  ) {}

  /** Starts the node, or starts it again after a reset: memory is lost, files stay. */
  async start(reset = "power-on"): Promise<void> {
    this.engine?.global.close();
    this.engine = await factory.createEngine({ enableProxy: false });
    this.uptimeMs = 0;
    this.boots += 1;
    this.link = "down";
    this.pending = [];
    this.engine.global.set("leewardPorts", this.ports(reset));
    const text = readFileSync(bundlePath, "utf8");
    await this.engine.doString(`leewardNode = (function(...) ${text} end)().start(leewardPorts)`);
    this.calls = this.engine.global.get("leewardNode") as NodeCalls;
  }

  stop(): void {
    this.engine?.global.close();
    this.engine = undefined;
  }

  /** Lets `seconds` pass in turns of 250 ms; `each` runs before every turn. */
  run(seconds: number, each?: (uptimeS: number) => void): void {
    const turns = Math.round(seconds * 4);
    for (let turn = 0; turn < turns; turn++) {
      this.uptimeMs += 250;
      each?.(this.uptimeMs / 1000);
      this.node.tick(Math.floor(this.uptimeMs / 1000), (this.uptimeMs % 1000) * 1000);
      this.deliver();
      this.lampHistory += this.lamp ? "1" : "0";
      this.buzzerHistory += this.buzzer ? "1" : "0";
    }
  }

  /** A message from the gateway on the node's own topic. */
  send(leaf: string, payload: object | string): void {
    const text = typeof payload === "string" ? payload : JSON.stringify(payload);
    this.node.message(`leeward/v1/north/n-07/${leaf}`, text);
    this.deliver();
  }

  /** The gateway's time; a text goes out as it is. */
  sendTime(unix: number | string): void {
    const payload = typeof unix === "string" ? unix : JSON.stringify({ unix });
    this.node.message("leeward/v1/north/time", payload);
    this.deliver();
  }

  updateReady(why: string): void {
    this.node.updateReady(why);
    this.deliver();
  }

  /** The broker goes away, as seen by the radio. */
  cut(): void {
    this.world.brokerUp = false;
    if (this.link !== "down") {
      this.link = "down";
      this.pending = [];
      this.node.disconnected("cut");
      this.deliver();
    }
  }

  /** All payloads of one leaf, parsed. */
  payloads(leaf: string): Record<string, unknown>[] {
    return this.published
      .filter((message) => message.topic.endsWith(`/${leaf}`))
      .map((message) => JSON.parse(message.payload) as Record<string, unknown>);
  }

  heapKb(): number {
    return this.engine?.doStringSync("collectgarbage() return collectgarbage('count')") as number;
  }

  private get node(): NodeCalls {
    if (this.calls === undefined) throw new Error("start the node first");
    return this.calls;
  }

  private deliver(): void {
    while (this.pending.length > 0) this.pending.shift()?.();
  }

  private accept(message: Published): void {
    if (this.world.silent) return;
    this.published.push(message);
    if (message.topic.endsWith("/samples")) {
      const pack = JSON.parse(message.payload) as SenmlRecord[];
      this.packs.push(pack);
      if (this.world.gatewayUp) {
        const boot = pack.find((record) => record.n === "boot")?.v;
        const through = pack.find((record) => record.n === "seq")?.v;
        this.pending.push(() => this.send("stored", { boot, through }));
      }
    }
    this.pending.push(() => this.node.published());
  }

  private rawReadings(channel: number): number[] {
    const given = this.world.raw[channel];
    if (given !== undefined) return given;
    if (channel === 3) return [0, 0, 0, 0, 0].map(() => this.world.supplyUv);
    const rangePa = channel === 1 ? 1_000_000 : 25_000_000;
    const pressurePa = channel === 1 ? this.world.linePa : this.world.cylinderPa;
    const noise = channel === 1 ? this.world.noisePa : this.world.noisePa * 25;
    return [0, 0, 0, 0, 0].map(() => {
      const seen = pressurePa + (this.random() - 0.5) * 2 * noise;
      const uv = this.world.supplyUv * (0.1 + (0.8 * seen) / rangePa);
      return Math.round(Math.round(uv / 187.5) * 187.5);
    });
  }

  private ports(reset: string): Record<string, unknown> {
    const { world, files } = this;
    const hasFlash = this.settings.hasFlash ?? true;
    const write = (name: string, content: string): boolean => {
      if (!hasFlash || world.flashFull) return false;
      files.set(name, content);
      return true;
    };
    return {
      site: this.settings.site ?? "north",
      node: this.settings.node ?? "n-07",
      hardwareAddress: this.settings.hardwareAddress ?? "",
      reset,
      random: 1_234_567 + this.boots,
      hasFlash,
      ringBytes: hasFlash ? (this.settings.ringBytes ?? 100_000) : 0,
      readAdc: (channel: number) => LuaMultiReturn.from(this.rawReadings(channel)),
      readTemperature: (probe: number) => world.temperatures[probe - 1],
      readArc: () => world.arc,
      readScale: () => world.scale,
      readButton: () => world.button,
      unixTime: () =>
        world.unixS === 0
          ? LuaMultiReturn.from([0, 0])
          : LuaMultiReturn.from([
              world.unixS + Math.floor(this.uptimeMs / 1000),
              (this.uptimeMs % 1000) * 1000,
            ]),
      lamp: (on: boolean) => {
        this.lamp = on;
      },
      buzzer: (on: boolean) => {
        this.buzzer = on;
      },
      connect: (topic: string, payload: string) => {
        this.will = { topic, payload };
        this.connects.push(this.uptimeMs / 1000);
        this.link = "connecting";
        this.pending.push(() => {
          if (world.brokerUp) {
            this.link = "up";
            this.node.connected();
          } else {
            this.link = "down";
            this.node.disconnected("refused");
          }
        });
      },
      publish: (topic: string, payload: string, qos: number, retain: boolean) => {
        if (this.link !== "up") {
          this.publishedWhileDown += 1;
          return false;
        }
        this.accept({ topic, payload, qos, retain });
        return true;
      },
      subscribe: (topic: string) => {
        this.subscriptions.push(topic);
        return this.link === "up";
      },
      close: () => {
        this.link = "down";
        this.pending = [];
      },
      readFile: (name: string) => (hasFlash ? files.get(name) : undefined),
      writeFile: write,
      appendFile: (name: string, content: string) => write(name, (files.get(name) ?? "") + content),
      renameFile: (from: string, to: string) => {
        const content = files.get(from);
        if (content === undefined) return false;
        files.set(to, content);
        files.delete(from);
        return true;
      },
      removeFile: (name: string) => {
        files.delete(name);
      },
      listFiles: () => [...files.keys()].join(" "),
      fetchUpdate: (url: string, bytes: number, hmac: string) => {
        this.fetches.push({ url, bytes, hmac });
      },
      restart: (update: boolean) => {
        this.restarts.push(update);
      },
      confirmUpdate: () => undefined,
      ...(this.settings.battery ? { sleep: (seconds: number) => this.sleeps.push(seconds) } : {}),
      log: () => undefined,
    };
  }
}
