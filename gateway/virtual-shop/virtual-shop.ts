import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { SiteDocument, StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { PersonEntry } from "@leeward/shared-core/estimation/engine.ts";
import { LuaFactory } from "wasmoon";
import type { Clock } from "../clock.ts";
import { exampleSite, exampleStations } from "./example-stations.ts";
import { MqttTransport } from "./host/mqtt-transport.ts";
import { PastTransport } from "./host/past-transport.ts";
import type { TruthPoint } from "./plant/run.ts";
import { stories } from "./stories/index.ts";
import type { StoryTimes } from "./stories/story.ts";
import { VirtualStation } from "./virtual-station.ts";

export interface VirtualShopOptions {
  clock: Clock;
  /** The broker that the nodes connect to, such as `mqtt://127.0.0.1:1883`. */
  brokerUrl: string;
  /** Name of the site; `boatyard` where absent. */
  site?: string;
  /** One line of what goes wrong or is worth knowing. */
  log?(line: string): void;
  /** Hours of the past that the stories assume; `preAge` makes up as much where not told otherwise. */
  pastHours?: number;
  /** The same seed plays the same shop. */
  seed?: number;
  username?: string;
  password?: string;
  /** Takes what the stories' people say while the shop is live. */
  person?(station: string, entry: PersonEntry, receivedS: number): void | Promise<void>;
  /** The firmware bundle; the built one where absent. */
  bundleFile?: string;
}

export interface PastOptions {
  hours?: number;
  /** Takes each message with its time of receipt (Unix seconds), in order. */
  deliver(topic: string, payload: string, receivedS: number): void | Promise<void>;
  /** Takes what people said, in the same order. */
  person?(station: string, entry: PersonEntry, receivedS: number): void | Promise<void>;
}

export interface VirtualShop {
  readonly site: SiteDocument;
  /** Descriptions to set up before `preAge`. */
  readonly stations: StationDocument[];
  /**
   * Makes up the past up to the clock's present with the same firmware and plants, as fast as it
   * goes, yielding to the event loop. Call before `start`, at most once.
   */
  preAge(options: PastOptions): Promise<void>;
  /** Goes on live over MQTT. Throws where the firmware bundle is missing. */
  start(): Promise<void>;
  /** Ends every node's session in good order, for good; a past that is being made up breaks off. */
  stop(): Promise<void>;
  /** What really goes on at a station: for tests and for the curious. */
  truth(station: string): TruthPoint;
}

const defaultPastHours = 3.5;
/** Turn of a node, s of the shop's time: exact, and in a hurry (made-up past, high speed). */
const turnS = 0.25;
const hurriedTurnS = 1;
/** Shop seconds simulated before messages are handed over. */
const sliceS = 4;
/** The same far back in a made-up past: many messages then share a commit. */
const pastSliceS = 60;

/** The demo shop: six virtual stations that run the real firmware against simulated plants. */
export function createVirtualShop(options: VirtualShopOptions): VirtualShop {
  const presentS = Math.floor(options.clock.nowS());
  const pastHours = options.pastHours ?? defaultPastHours;
  const times: StoryTimes = { startS: presentS - Math.round(pastHours * 3600), presentS };
  const site = options.site ?? "boatyard";
  const stations = exampleStations(site, times);
  const log = options.log ?? (() => undefined);
  const seed = options.seed ?? 7;
  const running: VirtualStation[] = [];
  const sessions: MqttTransport[] = [];
  let live = false;
  let stopped = false;
  let cancel: (() => void) | null = null;
  let busy = false;

  const open = (startS: number): void => {
    if (running.length > 0) return;
    const bundle = readBundle(options.bundleFile);
    const factory = new LuaFactory();
    stories.forEach((story, i) => {
      running.push(
        new VirtualStation({
          story,
          station: stations[i] as StationDocument,
          times: { ...times, startS },
          seed: seed * 1009 + i * 101 + 1,
          factory,
          bundle,
          log,
        }),
      );
    });
  };

  const preAge = async (past: PastOptions): Promise<void> => {
    if (running.length > 0) throw new Error("the shop's past has been made up already");
    const startS =
      past.hours === undefined ? times.startS : presentS - Math.round(past.hours * 3600);
    open(startS);
    let nowS = startS;
    const transports: PastTransport[] = [];
    for (const station of running) {
      const transport = new PastTransport(station.node, () => nowS);
      transports.push(transport);
      await station.powerOn(transport);
    }
    let sincePause = performance.now();
    let toldS = nowS;
    let lastS = startS;
    while (!stopped && nowS + sliceS <= options.clock.nowS()) {
      const items: { receivedS: number; hand(receivedS: number): void | Promise<void> }[] = [];
      const slice = nowS + pastSliceS <= options.clock.nowS() ? pastSliceS : sliceS;
      for (let i = 0; i < slice / hurriedTurnS; i += 1) {
        nowS += hurriedTurnS;
        for (const station of running) station.advance(nowS);
      }
      if (nowS - toldS >= 60) {
        toldS = nowS;
        for (const transport of transports) transport.tellStored();
      }
      running.forEach((station, i) => {
        for (const message of (transports[i] as PastTransport).sent.splice(0)) {
          items.push({
            receivedS: message.receivedS,
            hand: (at) => past.deliver(message.topic, message.payload, at),
          });
        }
        for (const { receivedS, entry } of station.takeSaid(nowS)) {
          items.push({
            receivedS,
            hand: (at) => past.person?.(station.station.station, entry, at),
          });
        }
      });
      items.sort((a, b) => a.receivedS - b.receivedS);
      for (const item of items) {
        if (stopped) return;
        lastS = Math.max(lastS, item.receivedS);
        await item.hand(lastS);
      }
      if (performance.now() - sincePause > 25) {
        await new Promise((resolve) => setImmediate(resolve));
        sincePause = performance.now();
      }
    }
    for (const transport of transports) transport.tellStored();
  };

  /** Brings all stations to the clock's present, in slices, so that acknowledgements come in between. */
  const catchUp = async (): Promise<void> => {
    if (busy) return;
    busy = true;
    try {
      const turn = options.clock.speed > 10 ? hurriedTurnS : turnS;
      let pausedAtS = running[0]?.t ?? 0;
      for (;;) {
        const first = running[0];
        if (!live || !first || first.t + turn > options.clock.nowS()) break;
        const nowS = first.t + turn;
        for (const station of running) {
          station.advance(nowS);
          for (const { receivedS, entry } of station.takeSaid(nowS)) {
            await options.person?.(station.station.station, entry, receivedS);
          }
        }
        if (nowS - pausedAtS >= sliceS) {
          pausedAtS = nowS;
          await new Promise((resolve) => setTimeout(resolve, 2));
        }
      }
    } catch (error) {
      log(`the virtual shop stumbled: ${(error as Error).message}`);
    } finally {
      busy = false;
    }
  };

  return {
    site: exampleSite(site),
    stations,
    preAge,
    async start() {
      if (stopped) return;
      const fresh = running.length === 0;
      open(presentS);
      for (const station of running) {
        const name = station.station.node ?? station.station.station;
        const session = new MqttTransport(station.node, options.brokerUrl, `${site}-${name}`, {
          ...(options.username !== undefined && { username: options.username }),
          ...(options.password !== undefined && { password: options.password }),
        });
        sessions.push(session);
        if (fresh) await station.powerOn(session);
        else station.node.use(session);
      }
      live = true;
      const interval = Math.max(turnS, 0.1 * options.clock.speed);
      cancel = options.clock.every(interval, () => void catchUp());
    },
    async stop() {
      stopped = true;
      live = false;
      cancel?.();
      cancel = null;
      await Promise.all(sessions.map((session) => session.end()));
      sessions.length = 0;
      for (const station of running) station.node.powerOff();
    },
    truth(name) {
      const found = running.find((one) => one.station.station === name);
      if (!found) throw new Error(`the virtual shop has no station ${name}, or has not begun`);
      return found.truth();
    },
  };
}

function readBundle(file: string | undefined): string {
  const path =
    file ?? fileURLToPath(new URL("../../firmware/dist/leeward-node.lua", import.meta.url));
  try {
    return readFileSync(path, "utf8");
  } catch (error) {
    throw new Error(
      `the node's firmware bundle cannot be read (${path}): ${(error as Error).message}; make it with: npm run build -w firmware`,
    );
  }
}
