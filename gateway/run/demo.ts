import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { Clock } from "../clock.ts";
import type { Logger } from "../log.ts";
import type { RackStore } from "../rack/rack-store.ts";
import type { DescriptionRecord, GatewayStore } from "../store/store.ts";
import { createVirtualShop, type VirtualShop } from "../virtual-shop/virtual-shop.ts";
import { fillDemoRack } from "./demo-rack.ts";
import type { Gateway } from "./gateway.ts";

/** Messages that may wait for their commit while the past is made up. */
const backlog = 1000;

/** The site of the demo; real stations have another. */
export const demoSite = "boatyard";

/** True for a description that the demo made. */
export function isVirtual(record: DescriptionRecord): boolean {
  return record.kind === "station" && (record.document as StationDocument).virtual === true;
}

/** Stations as the store describes them. */
export interface StoredStations {
  /** Names of the real ones. */
  real: string[];
  virtual: DescriptionRecord[];
}

/** The real stations of a store, and the virtual ones that its last demo left. */
export async function storedStations(store: GatewayStore): Promise<StoredStations> {
  const latest = new Map<string, DescriptionRecord>();
  for (const record of await store.descriptions()) {
    latest.set(`${record.kind} ${record.site}.${record.name}`, record);
  }
  const stations = [...latest.values()].filter((record) => record.kind === "station");
  const real = stations.filter((record) => !isVirtual(record));
  return {
    real: real.map(({ document, name }) => (document as StationDocument).name ?? name),
    virtual: stations.filter(isVirtual),
  };
}

/**
 * The demo's past is made anew at each start; what is left of the last one goes. What belongs to
 * real stations stays.
 *
 * @param virtual the last demo's stations
 * @param nowS moment of the moves that this makes in the Rack, Unix s
 */
export async function forgetDemo(
  store: GatewayStore,
  virtual: readonly DescriptionRecord[],
  nowS: number,
): Promise<void> {
  for (const site of new Set(virtual.map((record) => record.site))) {
    const ofSite = virtual.filter((record) => record.site === site);
    const nodes = ofSite.map((record) => (record.document as StationDocument).node ?? "");
    const names = ofSite.map((record) => record.name);
    const ids = names.map((name) => `${site}.${name}`);
    if (site === demoSite) await store.rack.forgetDemo(site, ids, nowS);
    await store.forget(
      site,
      names,
      nodes.filter((node) => node !== ""),
    );
  }
}

/**
 * What the person who starts the gateway is told of a demo that ended; null where none did.
 *
 * @param withDemo true where it is made anew
 */
export function demoEnded({ real, virtual }: StoredStations, withDemo: boolean): string | null {
  if (withDemo || virtual.length === 0) return null;
  const [first, ...more] = real;
  const which = more.length === 0 ? first : `${first} and ${more.length} more`;
  const [why, again] =
    first === undefined
      ? ["virtual stations are switched off", "start with them switched on (--virtual auto)"]
      : [`a station of your own is set up (${which})`, "start with another --data folder"];
  return `The demo has ended, since ${why}: its ${virtual.length} virtual stations and their invented past are deleted. Everything of your own is kept. To see the demo again, ${again}.`;
}

export interface Demo {
  shop: VirtualShop;
  /** Describes the stations and makes up their past. */
  prepare(gateway: Gateway): Promise<void>;
}

export function createDemo(options: {
  clock: Clock;
  brokerUrl: string;
  /** Where the broker asks for them. */
  credentials?: { username: string; password: string };
  hours: number;
  log: Logger;
  rack: RackStore;
  gateway: () => Gateway;
}): Demo {
  const { clock, brokerUrl, hours, log } = options;
  const shop = createVirtualShop({
    clock,
    brokerUrl,
    ...options.credentials,
    site: demoSite,
    pastHours: hours,
    log: (line) => log.info({ from: "virtual shop" }, line),
    person: async (station, entry) => {
      await options.gateway().ingest.person(demoSite, station, entry);
    },
  });
  return {
    shop,
    async prepare(gateway) {
      const { ingest, service } = gateway;
      const presentS = clock.nowS();
      const startS = presentS - hours * 3600;
      for (const station of shop.stations) {
        await service.save({ ...station, virtual: true }, "*", startS);
      }
      await fillDemoRack(options.rack, demoSite, shop.stations, presentS);
      if (hours === 0) return;
      const waiting = new Set<Promise<unknown>>();
      const hand = async (begin: () => Promise<unknown>, receivedS: number) => {
        if (gateway.stopping) throw new Error("told to stop amid the virtual stations' past");
        const work = begin();
        const done = work.finally(() => waiting.delete(done));
        waiting.add(done);
        const share = (receivedS - startS) / Math.max(1, clock.nowS() - startS);
        gateway.progress("making up the virtual stations' past", 0.1 + 0.85 * share);
        if (waiting.size >= backlog) await Promise.race(waiting);
      };
      await shop.preAge({
        deliver: (topic, payload, receivedS) =>
          hand(() => ingest.message(topic, Buffer.from(payload), receivedS), receivedS),
        person: (station, entry, receivedS) =>
          hand(() => ingest.person(demoSite, station, entry, receivedS), receivedS),
      });
      await Promise.all(waiting);
    },
  };
}
