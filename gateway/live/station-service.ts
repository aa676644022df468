import type {
  StationList,
  StationView,
  StoodAt,
  UnclaimedNode,
} from "@leeward/shared-core/api/stations.ts";
import type { DocumentFault } from "@leeward/shared-core/documents/parse.ts";
import type {
  SiteDocument,
  StationDocument,
  SupplyDocument,
} from "@leeward/shared-core/documents/station.ts";
import { isOldEstimate, measuredAtS } from "@leeward/shared-core/estimation/age-limit.ts";
import type { PersonEntry } from "@leeward/shared-core/estimation/engine.ts";
import { nodeTopic } from "@leeward/shared-core/messages/topics.ts";
import type { Clock } from "../clock.ts";
import type { Ingest } from "../ingest/ingest.ts";
import type { NodeRegistry } from "../ingest/node-registry.ts";
import type { SiteDocuments, SiteSaveResult } from "../sites/site-documents.ts";
import type { NodeRecord } from "../store/store.ts";
import { type Directory, type EngineKey, type StationRecord, setupTag } from "./directory.ts";
import type { LineSink } from "./line-sink.ts";
import type { LiveLoop } from "./live-loop.ts";

/** What a node's pack pace is, s: how old a value may be before it counts as old. */
const flowingPaceS = 2;
const idlePaceS = 60;

export type SaveResult =
  | { ok: true; created: boolean; version: number }
  | { ok: false; kind: "faults"; faults: DocumentFault[] }
  /** Nothing is wrong with the document, but what it describes would be dangerous. */
  | { ok: false; kind: "dangerous"; faults: DocumentFault[] }
  | { ok: false; kind: "missing-precondition" }
  | { ok: false; kind: "version"; version: number };

/** Unix seconds as RFC 3339. */
export function toRfc3339(seconds: number): string {
  return new Date(seconds * 1000).toISOString();
}

/** Stations as people see them: descriptions with their latest estimates, and changes to them. */
export class StationService {
  readonly #directory: Directory;
  readonly sites: SiteDocuments;
  readonly #registry: NodeRegistry;
  readonly #sink: LineSink;
  readonly #live: LiveLoop;
  readonly #ingest: Ingest;
  readonly #clock: Clock;
  readonly #onChange: (site: string) => void;
  readonly #publish: (topic: string, payload: string) => Promise<void>;
  #saving: Promise<unknown> = Promise.resolve();

  constructor(options: {
    directory: Directory;
    sites: SiteDocuments;
    registry: NodeRegistry;
    sink: LineSink;
    live: LiveLoop;
    ingest: Ingest;
    clock: Clock;
    /** A description was saved. */
    onChange: (site: string) => void;
    /** At least once; rejects while there is no broker. */
    publish: (topic: string, payload: string) => Promise<void>;
  }) {
    this.sites = options.sites;
    this.#publish = options.publish;
    this.#directory = options.directory;
    this.#registry = options.registry;
    this.#sink = options.sink;
    this.#live = options.live;
    this.#ingest = options.ingest;
    this.#clock = options.clock;
    this.#onChange = options.onChange;
  }

  list(site: StationList["site"]): Omit<StationList, "starting"> {
    const stations = this.#directory.stations().map((station) => this.view(station));
    return {
      site,
      now: this.#clock.nowS(),
      demo: { virtual: stations.some((station) => station.virtual), speed: this.#clock.speed },
      stations,
      unclaimed: this.unclaimed(),
    };
  }

  view(record: StationRecord): StationView {
    const { id, site, station, version, document } = record;
    const estimate = this.#sink.latest(id);
    const node = this.#nodeOf(record);
    const name = this.#nodeNameOf(record);
    const nowS = this.#clock.nowS();
    const clock = name === null ? null : this.#registry.refusedClock(site, name, nowS);
    const paceS = estimate?.mode === "flowing" ? flowingPaceS : idlePaceS;
    return {
      id,
      site,
      station,
      name: document.name ?? station,
      virtual: document.virtual ?? false,
      version,
      description: document,
      estimate,
      node: {
        name,
        state: node?.state ?? "unknown",
        lastSample: node?.lastSample == null ? null : toRfc3339(node.lastSample),
        ...(typeof node?.status?.power === "string" ? { power: node.status.power } : {}),
        ...(clock === null ? {} : { clockAheadS: clock.aheadS }),
      },
      paceS,
      ageS: estimate ? Math.max(0, nowS - measuredAtS(estimate, node?.lastSample ?? null)) : null,
      old: !estimate || isOldEstimate(estimate, { nowS, paceS, speed: this.#clock.speed }),
    };
  }

  unclaimed(): UnclaimedNode[] {
    return this.#registry
      .all()
      .filter((node) => !this.#directory.isClaimed(node.site, node.node))
      .map((node) => ({
        site: node.site,
        node: node.node,
        lastSample: node.lastSample === null ? null : toRfc3339(node.lastSample),
        measured: Object.fromEntries(
          Object.entries(node.latest).map(([channel, [, value]]) => [channel, value]),
        ),
        ...this.stood(node.site, node.node),
      }));
  }

  /** Where a free node stood before, as views tell it; nothing where it never stood anywhere. */
  stood(site: string, node: string): { stood?: StoodAt } {
    const last = this.#directory.stoodLast(site, node);
    return last ? { stood: { owner: last.owner, until: toRfc3339(last.untilS) } } : {};
  }

  /** Every node that was heard. */
  nodes(): NodeRecord[] {
    return this.#registry.all();
  }

  node(site: string, node: string): NodeRecord | null {
    return this.#registry.get(site, node);
  }

  /** RFC 3339 time of the newest sample of a station's node; null where there is none. */
  lastSample(site: string, station: string): string | null {
    const record = this.#directory.station(`${site}.${station}`);
    const node = record ? this.#nodeOf(record) : null;
    return node?.lastSample == null ? null : toRfc3339(node.lastSample);
  }

  /**
   * Stores a new version of a description. `expected` is the version that the writer has seen:
   * null for none (a new one), `*` for whichever is there. `receivedS` is for a made-up past.
   */
  save(
    document: StationDocument | SupplyDocument,
    expected: number | "*" | null,
    receivedS?: number,
  ): Promise<SaveResult> {
    // One at a time, so that two writers cannot both have seen the latest version.
    const saved = this.#saving.then(() => this.#save(document, expected, receivedS));
    this.#saving = saved.catch(() => undefined);
    return saved;
  }

  /** Stores what is said of a site; its engines hear of it in order with their samples. */
  async saveSite(document: SiteDocument, expected: number): Promise<SiteSaveResult> {
    await this.sites.load([document.site]);
    const saved = await this.sites.save(document, expected, this.#clock);
    if (!saved.ok) return saved;
    const setups = this.#directory.engineKeys().flatMap((key) => {
      const setup = this.#directory.setupOf(key);
      return setup && key.split(/[./]/)[0] === document.site ? [{ tag: setupTag(key), setup }] : [];
    });
    await this.#ingest.setups(document.site, setups);
    return saved;
  }

  /** Sends a command to a node. */
  command(site: string, node: string, command: Record<string, unknown>): Promise<void> {
    return this.#publish(nodeTopic(site, node, "command"), JSON.stringify(command));
  }

  /** Another station of the same supply whose leak test is under way: its name; null where none is. */
  leakTestElsewhere({ id, site, document }: StationRecord): string | null {
    const { supply } = document;
    if (supply == null) return null;
    const busy = this.#directory
      .stations()
      .filter((one) => one.site === site && one.document.supply === supply && one.id !== id)
      .map((one) => this.view(one))
      .find(({ estimate }) => /^(settling|running)$/.test(estimate?.leak.test?.phase ?? ""));
    return busy?.name ?? null;
  }

  /** Stores what a person says; returns its time of receipt, Unix s. */
  say(record: StationRecord, entry: PersonEntry): Promise<number> {
    return this.#ingest.person(record.site, record.station, entry);
  }

  async #save(
    document: StationDocument | SupplyDocument,
    expected: number | "*" | null,
    atS: number | undefined,
  ): Promise<SaveResult> {
    const directory = this.#directory;
    const isSupply = "drops" in document;
    const before = isSupply
      ? directory.supply(`${document.site}.${(document as SupplyDocument).supply}`)
      : directory.station(`${document.site}.${(document as StationDocument).station}`);
    if (before && expected === null) return { ok: false, kind: "missing-precondition" };
    if (typeof expected === "number" && expected !== (before?.version ?? 0)) {
      return { ok: false, kind: "version", version: before?.version ?? 0 };
    }
    const faults = isSupply
      ? directory.checkSupply(document as SupplyDocument)
      : directory.checkStation(document as StationDocument);
    if (faults.length > 0) return { ok: false, kind: "faults", faults };
    const dangers = isSupply
      ? directory.dangersOfSupply(document as SupplyDocument)
      : directory.dangersOfStation(document as StationDocument);
    if (dangers.length > 0) return { ok: false, kind: "dangerous", faults: dangers };

    const key = keyOfDocument(document);
    let receivedS = 0;
    let planned: ReturnType<Directory["plan"]> | null = null;
    await this.#ingest.description(
      document,
      (nowS) => {
        receivedS = nowS;
        planned = directory.plan(document, nowS);
        // The set-up as it will be once this version counts.
        const setup = directory.preview(planned.record).setupOf(key);
        return { tag: setupTag(key), setup, ...planned };
      },
      atS,
    );
    const { record, binding } = planned as unknown as ReturnType<Directory["plan"]>;
    directory.apply(record, binding);
    const bringsPast = binding?.node != null && binding.validFrom === 0 && !key.includes("/");
    await this.#live.directoryChanged(this.#live.headId, receivedS, bringsPast ? key : null);
    this.#onChange(document.site);
    return { ok: true, created: !before, version: (before?.version ?? 0) + 1 };
  }

  #nodeNameOf({ site, document }: StationRecord): string | null {
    const supply = document.supply ? this.#directory.supply(`${site}.${document.supply}`) : null;
    return document.node ?? supply?.document.node ?? null;
  }

  #nodeOf(record: StationRecord): NodeRecord | null {
    const name = this.#nodeNameOf(record);
    return name === null ? null : this.#registry.get(record.site, name);
  }
}

function keyOfDocument(document: StationDocument | SupplyDocument): EngineKey {
  if ("drops" in document) return `${document.site}/${(document as SupplyDocument).supply}`;
  const station = document as StationDocument;
  return station.supply
    ? `${station.site}/${station.supply}`
    : `${station.site}.${station.station}`;
}
