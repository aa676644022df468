import type {
  SiteDocument,
  StationDocument,
  SupplyDocument,
} from "@leeward/shared-core/documents/station.ts";
import type { SupplySetup } from "@leeward/shared-core/estimation/engine.ts";
import { stationSafety, supplySafety } from "@leeward/shared-core/safety/station-safety.ts";
import type {
  BindingChange,
  BindingRecord,
  DescriptionRecord,
  GatewayStore,
  HistoryPart,
} from "../store/store.ts";

/** Which stations and supplies there are, and which node's samples reach them when. */

export interface StationRecord {
  /** `<site>.<station>` */
  id: string;
  site: string;
  station: string;
  version: number;
  document: StationDocument;
}

export interface SupplyRecord {
  /** `<site>.<supply>` */
  id: string;
  site: string;
  supply: string;
  version: number;
  document: SupplyDocument;
}

/** One fault of a change that a schema cannot see. */
export interface ChangeFault {
  path: string;
  message: string;
}

/** Key of an engine: `<site>.<station>` for a cylinder of its own, `<site>/<supply>` for a shared supply. */
export type EngineKey = string;

/** What is said of a site, as its engines are told; undefined where nothing is. */
export type SiteOf = (site: string) => SiteDocument | undefined;

export class Directory {
  readonly #stations = new Map<string, StationRecord>();
  readonly #supplies = new Map<string, SupplyRecord>();
  #bindings: BindingRecord[] = [];
  readonly #timeZone: string;
  readonly #siteOf: SiteOf;

  /** @param siteOf what an engine must know of a site */
  constructor(timeZone: string, siteOf: SiteOf = () => undefined) {
    this.#timeZone = timeZone;
    this.#siteOf = siteOf;
  }

  async load(store: GatewayStore): Promise<void> {
    for (const record of await store.descriptions()) this.#take(record);
    this.#bindings = await store.bindings();
  }

  stations(): StationRecord[] {
    return [...this.#stations.values()].sort((a, b) => a.id.localeCompare(b.id));
  }

  supplies(): SupplyRecord[] {
    return [...this.#supplies.values()].sort((a, b) => a.id.localeCompare(b.id));
  }

  station(id: string): StationRecord | null {
    return this.#stations.get(id) ?? null;
  }

  supply(id: string): SupplyRecord | null {
    return this.#supplies.get(id) ?? null;
  }

  sites(): string[] {
    return [...new Set([...this.#stations.values()].map((station) => station.site))];
  }

  /** Owner (`station:bay-3`) that a node's samples reach at `t`; null where none claims it. */
  ownerOf(site: string, node: string, t: number): string | null {
    const binding = this.#bindings.findLast(
      (one) =>
        one.site === site &&
        one.node === node &&
        one.validFrom <= t &&
        (one.validTo === null || t < one.validTo),
    );
    return binding?.owner ?? null;
  }

  /** Stations that a node measures for now, by itself or for their supply. */
  stationsOf(site: string, node: string): string[] {
    const owner = this.ownerOf(site, node, Number.MAX_SAFE_INTEGER);
    return this.stations()
      .filter(
        (one) =>
          one.site === site &&
          (owner === `station:${one.station}` || owner === `supply:${one.document.supply}`),
      )
      .map(({ id }) => id);
  }

  isClaimed(site: string, node: string): boolean {
    return this.ownerOf(site, node, Number.MAX_SAFE_INTEGER) !== null;
  }

  /** Where a node that nobody claims stood last, and until when; null where it never stood anywhere. */
  stoodLast(site: string, node: string): { owner: string; untilS: number } | null {
    const last = this.#bindings.findLast((one) => one.site === site && one.node === node);
    return last?.validTo == null ? null : { owner: last.owner, untilS: last.validTo };
  }

  wasEverBound(site: string, node: string): boolean {
    return this.#bindings.some((one) => one.site === site && one.node === node);
  }

  /** Nodes that a station's history comes from, and when. */
  historyParts(station: StationRecord, from: number, to: number): HistoryPart[] {
    const owners = [`station:${station.station}`];
    if (station.document.supply) owners.push(`supply:${station.document.supply}`);
    return this.#bindings
      .filter((one) => one.site === station.site && owners.includes(one.owner))
      .map((one) => ({
        owner: `node:${one.site}/${one.node}`,
        from: Math.max(from, one.validFrom),
        to: Math.min(to, one.validTo ?? to),
      }))
      .filter((part) => part.from < part.to);
  }

  engineKeys(): EngineKey[] {
    const keys = new Set<EngineKey>();
    for (const station of this.#stations.values()) keys.add(this.keyOf(station));
    return [...keys];
  }

  keyOf(station: StationRecord): EngineKey {
    const { supply } = station.document;
    return supply ? `${station.site}/${supply}` : station.id;
  }

  /** What an engine needs to know; null where the key has no station (any more). */
  setupOf(key: EngineKey): SupplySetup | null {
    const stations = this.stations().filter((station) => this.keyOf(station) === key);
    const [first] = stations;
    if (!first) return null;
    const supply = first.document.supply
      ? (this.#supplies.get(`${first.site}.${first.document.supply}`)?.document ?? null)
      : null;
    const site = this.#siteOf(first.site);
    return {
      supply,
      stations: stations.map((station) => station.document),
      timeZone: this.#timeZone,
      ...(site ? { site } : {}),
    };
  }

  /** All nodes that ever fed an engine, for reading the log. */
  nodesEver(key: EngineKey): { site: string; nodes: string[]; stations: string[] } {
    const stations = this.stations().filter((station) => this.keyOf(station) === key);
    const site = stations[0]?.site ?? "";
    const owners = new Set(stations.map((station) => `station:${station.station}`));
    const supply = stations[0]?.document.supply;
    if (supply) owners.add(`supply:${supply}`);
    const bound = this.#bindings.filter((one) => one.site === site && owners.has(one.owner));
    return {
      site,
      nodes: [...new Set(bound.map((one) => one.node))],
      stations: [...stations.map((station) => station.station), setupTag(key)],
    };
  }

  /** What stands against a new station description, beyond its schema. */
  checkStation(document: StationDocument): ChangeFault[] {
    const faults: ChangeFault[] = [];
    if (document.node) {
      const owner = this.ownerOf(document.site, document.node, Number.MAX_SAFE_INTEGER);
      if (owner !== null && owner !== `station:${document.station}`) {
        faults.push({
          path: "node",
          message: `${document.node} belongs to ${owner.replace(":", " ")}: take it away there first`,
        });
      }
    }
    if (document.supply) {
      const supply = this.#supplies.get(`${document.site}.${document.supply}`);
      if (!supply) {
        faults.push({
          path: "supply",
          message: `${document.supply} is not described: PUT supplies/${document.site}.${document.supply} first`,
        });
      } else if (!supply.document.drops.includes(document.station)) {
        faults.push({
          path: "supply",
          message: `${document.supply} does not list ${document.station} among its drops`,
        });
      }
    }
    return faults;
  }

  checkSupply(document: SupplyDocument): ChangeFault[] {
    const faults: ChangeFault[] = [];
    if (document.node) {
      const owner = this.ownerOf(document.site, document.node, Number.MAX_SAFE_INTEGER);
      if (owner !== null && owner !== `supply:${document.supply}`) {
        faults.push({
          path: "node",
          message: `${document.node} belongs to ${owner.replace(":", " ")}: take it away there first`,
        });
      }
    }
    for (const station of this.#stations.values()) {
      const fed = station.site === document.site && station.document.supply === document.supply;
      if (fed && !document.drops.includes(station.station)) {
        faults.push({
          path: "drops",
          message: `leaves out ${station.station}, whose description names this supply`,
        });
      }
    }
    return faults;
  }

  /** What would be dangerous about a station as described; such a description is refused. */
  dangersOfStation(document: StationDocument): ChangeFault[] {
    const supply = document.supply
      ? (this.#supplies.get(`${document.site}.${document.supply}`)?.document ?? null)
      : null;
    return stationSafety(document, supply).refusals.map(({ path, message }) => ({ path, message }));
  }

  /** The same for a shared supply, and for the stations that draw from it already. */
  dangersOfSupply(document: SupplyDocument): ChangeFault[] {
    const faults = supplySafety(document).refusals.map(({ path, message }) => ({ path, message }));
    for (const station of this.#stations.values()) {
      if (station.site !== document.site || station.document.supply !== document.supply) continue;
      for (const { path, message } of stationSafety(station.document, document).refusals) {
        faults.push({ path: `${station.station}: ${path}`, message });
      }
    }
    return faults;
  }

  /** The version to store for a document, and how its node's binding moves with it. */
  plan(
    document: StationDocument | SupplyDocument,
    nowS: number,
  ): { record: DescriptionRecord; binding: BindingChange | null } {
    const { site } = document;
    const isSupply = "drops" in document;
    const kind = isSupply ? "supply" : "station";
    const name = isSupply
      ? (document as SupplyDocument).supply
      : (document as StationDocument).station;
    const id = `${site}.${name}`;
    const before = isSupply ? this.#supplies.get(id) : this.#stations.get(id);
    const node = document.node ?? null;
    const owner = `${kind}:${name}`;
    // A node that nobody ever claimed brings its past with it, to a station that has none yet.
    const hasPast = this.#bindings.some((one) => one.site === site && one.owner === owner);
    const bringsPast = node !== null && !hasPast && !this.wasEverBound(site, node);
    const boundFrom = bringsPast ? 0 : nowS;
    const record: DescriptionRecord = {
      site,
      kind,
      name,
      version: (before?.version ?? 0) + 1,
      validFrom: before ? nowS : boundFrom,
      document,
    };
    const boundNow = this.#bindings.findLast(
      (one) => one.site === site && one.owner === owner && one.validTo === null,
    );
    const boundBefore = boundNow?.node ?? null;
    const moves = boundBefore !== node;
    const binding = { site, owner, node, before: boundBefore, validFrom: boundFrom };
    return { record, binding: moves ? binding : null };
  }

  /** The directory as it will be with `record`; this one stays as it is. */
  preview(record: DescriptionRecord): Directory {
    const preview = new Directory(this.#timeZone, this.#siteOf);
    for (const [id, station] of this.#stations) preview.#stations.set(id, station);
    for (const [id, supply] of this.#supplies) preview.#supplies.set(id, supply);
    preview.#take(record);
    return preview;
  }

  /** Takes over what was stored. */
  apply(record: DescriptionRecord, binding: BindingChange | null): void {
    this.#take(record);
    if (binding === null) return;
    for (const one of this.#bindings) {
      if (one.site === binding.site && one.owner === binding.owner && one.validTo === null) {
        one.validTo = binding.validFrom;
      }
    }
    if (binding.node !== null) {
      const { site, owner, node, validFrom } = binding;
      this.#bindings.push({ site, owner, node, validFrom, validTo: null });
    }
  }

  #take(record: DescriptionRecord): void {
    const { site, name, version } = record;
    const id = `${site}.${name}`;
    if (record.kind === "station") {
      const document = record.document as StationDocument;
      this.#stations.set(id, { id, site, station: name, version, document });
    } else {
      const document = record.document as SupplyDocument;
      this.#supplies.set(id, { id, site, supply: name, version, document });
    }
  }
}

/** How a set-up is filed in the log's `station` column. */
export function setupTag(key: EngineKey): string {
  const slash = key.indexOf("/");
  return slash < 0 ? key.slice(key.indexOf(".") + 1) : `supply:${key.slice(slash + 1)}`;
}
