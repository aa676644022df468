import type { Readiness } from "@leeward/shared-core/api/operations.ts";
import { nodeTopic, timeTopic } from "@leeward/shared-core/messages/topics.ts";
import { AlarmService } from "../alarms/alarm-service.ts";
import { tellChanges } from "../alarms/tell-changes.ts";
import type { MessageLink } from "../broker/link.ts";
import type { Clock } from "../clock.ts";
import { Ingest } from "../ingest/ingest.ts";
import { NodeRegistry } from "../ingest/node-registry.ts";
import { LiveBus } from "../live/bus.ts";
import { Directory } from "../live/directory.ts";
import { LineSink } from "../live/line-sink.ts";
import { Listening } from "../live/listening.ts";
import { LiveLoop } from "../live/live-loop.ts";
import { StationService } from "../live/station-service.ts";
import type { EngineFactory } from "../live/supply-runner.ts";
import type { Logger } from "../log.ts";
import { SiteDocuments } from "../sites/site-documents.ts";
import type { GatewayStore } from "../store/store.ts";
import { nodeConfig, nodeDuties } from "./node-configs.ts";

/** Seconds between the lines of a live station. */
const liveEveryS = 1;
const flushMs = 1000;
const snapshotMs = 30_000;
const pruneMs = 3_600_000;
const timeAnnouncementS = 60;
const placerFact = "placer";

export interface GatewayOptions {
  store: GatewayStore;
  clock: Clock;
  log: Logger;
  factory: EngineFactory;
  site: string;
  timeZone: string;
  retention: { rawDays: number; minuteDays: number };
  allowNode?: (site: string, node: string) => boolean;
}

/** The gateway's inside: from received messages to estimates, without HTTP and without the demo. */
export class Gateway {
  readonly registry = new NodeRegistry();
  readonly bus = new LiveBus();
  readonly sites: SiteDocuments;
  readonly directory: Directory;
  readonly sink: LineSink;
  readonly live: LiveLoop;
  readonly #tickS: number;
  readonly #listening: Listening;
  readonly alarms: AlarmService;
  readonly #options: GatewayOptions;
  #ingest: Ingest | null = null;
  #service: StationService | null = null;
  #link: MessageLink | null = null;
  #state: { state: string; progress: number; ready: boolean } = {
    state: "opening the store",
    progress: 0,
    ready: false,
  };
  readonly #timers: (() => void)[] = [];
  #stopping = false;

  constructor(options: GatewayOptions) {
    this.#options = options;
    const { store, log, factory, clock } = options;
    // At a fast clock a tick a quarter of a wall second is plenty.
    this.#tickS = Math.max(1, clock.speed / 4);
    this.#listening = new Listening(this.#tickS);
    this.sites = new SiteDocuments(store);
    this.directory = new Directory(options.timeZone, (site) => this.sites.forEngine(site));
    this.sink = new LineSink({
      store,
      bus: this.bus,
      lastSample: (site, station) => this.service.lastSample(site, station),
      onLine: (site, station, estimate) => this.alarms.take(site, station, estimate),
      shown: (id, alarms) => this.alarms.shown(id, alarms),
    });
    this.alarms = new AlarmService({
      store: store.alarms,
      outbox: store.outbox,
      facts: store,
      clock: options.clock,
      log,
      site: options.site,
      timeZone: options.timeZone,
      station: (id) => this.directory.station(id)?.document ?? null,
      siteDocument: (site) => this.sites.forEngine(site),
      refusedClock: (site, node, nowS) => this.registry.refusedClock(site, node, nowS),
      latestAlarms: (id) => this.sink.latestAlarms(id),
      listensLongEnough: (nowS) => this.#listening.longEnough(nowS),
      stationIds: () => this.directory.stations().map(({ id }) => id),
      onChange: (changed, nowS) => tellChanges(this.bus, this.sink, changed, nowS),
      supplyNode: (site, supply) =>
        this.directory.supply(`${site}.${supply}`)?.document.node ?? null,
      publish: async (topic, payload, publishOptions) => {
        if (!this.#link) throw new Error("the broker is not connected yet");
        await this.#link.publish(topic, payload, publishOptions);
      },
    });
    this.live = new LiveLoop({
      store,
      directory: this.directory,
      sink: this.sink,
      log,
      factory,
      everyS: liveEveryS,
    });
  }

  get ingest(): Ingest {
    if (!this.#ingest) throw new Error("the gateway has not been opened");
    return this.#ingest;
  }

  get service(): StationService {
    if (!this.#service) throw new Error("the gateway has not been opened");
    return this.#service;
  }

  readiness(): Readiness {
    return {
      ...this.#state,
      broker: this.#link?.connected ?? false,
      queued: this.#ingest?.queued ?? 0,
      catchingUp: this.live.catchingUp,
    };
  }

  /** No more is begun from now on; `stop` follows. */
  announceStop(): void {
    this.#stopping = true;
  }

  /** What the gateway is doing while it starts. */
  progress(state: string, progress: number): void {
    if (!this.#state.ready) this.#state = { state, progress, ready: false };
  }

  /** Reads what the store knows. Stations can be listed from then on. */
  async open(): Promise<void> {
    const { store, clock, log, allowNode } = this.#options;
    await this.directory.load(store);
    await this.sites.load([...new Set([this.#options.site, ...this.directory.sites()])]);
    this.registry.load(await store.nodes());
    await this.sink.load();
    await this.alarms.load();
    const head = await store.logHead();
    this.#ingest = new Ingest({
      store,
      clock,
      log,
      registry: this.registry,
      lastReceivedS: head.received,
      sinks: {
        take: (entries) => this.live.take(entries),
        tick: (nowS) => {
          this.#listening.tick(nowS);
          if (this.#listening.longEnough(nowS)) this.live.tick(nowS);
        },
        nodeState: (site, node) => this.#tellNode(site, node),
        clockRefused: (site, node) => {
          for (const id of this.directory.stationsOf(site, node)) this.alarms.judgeClock(id);
        },
        stored: ({ site, node, boot, through }) => {
          this.#publish(nodeTopic(site, node, "stored"), JSON.stringify({ boot, through }));
        },
      },
      ...(allowNode ? { allowNode } : {}),
    });
    this.#service = new StationService({
      directory: this.directory,
      sites: this.sites,
      registry: this.registry,
      sink: this.sink,
      live: this.live,
      ingest: this.#ingest,
      clock,
      onChange: (site) => this.#publishConfigs(site),
      publish: async (topic, payload) => {
        if (!this.#link) throw new Error("the broker is not connected yet");
        await this.#link.publish(topic, payload, { qos: 1 });
      },
    });
  }

  /** Brings engines and the placing of times to where the log ends. */
  async restore(): Promise<void> {
    const { store } = this.#options;
    this.progress("reading what came since the last snapshot", 0.05);
    const saved = JSON.parse((await store.fact(placerFact)) ?? "null") as {
      throughId: number;
      state: string;
    } | null;
    this.ingest.restorePlacer(saved?.state ?? null);
    let afterId = saved?.throughId ?? 0;
    for (;;) {
      const page = await store.readLog({ afterId, of: null, limit: 1000 });
      const last = page.at(-1);
      if (!last) break;
      this.ingest.placeAgain(page);
      afterId = last.id;
    }
    await this.live.start();
    await this.sink.flush();
  }

  /** Told to stop, perhaps while it was still starting. */
  get stopping(): boolean {
    return this.#stopping;
  }

  /** Begins to take messages, and to let time pass; does nothing where it was told to stop. */
  async serve(link: MessageLink): Promise<void> {
    if (this.#stopping) return;
    const { clock, log } = this.#options;
    this.#link = link;
    await link.start((topic, payload) => this.ingest.message(topic, payload));
    this.#state = { state: "running", progress: 1, ready: true };
    for (const site of this.directory.sites()) this.#publishConfigs(site);
    this.#announceTime();
    this.alarms.start();
    this.#listening.tick(clock.nowS());
    const whenDone = (work: Promise<unknown>, what: string) => {
      work.catch((error: unknown) => log.error({ error: String(error) }, what));
    };
    this.#timers.push(clock.every(this.#tickS, () => whenDone(this.ingest.tick(), "tick failed")));
    const onWall = (intervalMs: number, task: () => Promise<unknown>, what: string) => {
      const timer = setInterval(() => whenDone(task(), what), intervalMs);
      this.#timers.push(() => clearInterval(timer));
    };
    onWall(flushMs, () => this.sink.flush(), "estimates not written");
    onWall(snapshotMs, () => this.ingest.between(() => this.#snapshot()), "snapshot not written");
    onWall(pruneMs, () => this.#prune(), "old data not deleted");
  }

  /** Ends in good order: what was acknowledged is stored, engines go on exactly from here. */
  async stop(): Promise<void> {
    this.#stopping = true;
    for (const stop of this.#timers.splice(0)) stop();
    this.live.stop();
    if (!this.#ingest) return;
    await this.#ingest.close();
    await this.alarms.stop();
    // An engine that has not read its past yet would lose what it has not seen.
    if (this.#state.ready) await this.#snapshot();
  }

  async #snapshot(): Promise<void> {
    const engines = this.live.records();
    const state = this.ingest.placerState();
    const value = JSON.stringify({ throughId: this.live.headId, state });
    await this.#options.store.write({
      ...this.sink.drain(),
      engines,
      facts: [{ key: placerFact, value }],
    });
  }

  async #prune(): Promise<void> {
    const { store, clock, retention, log } = this.#options;
    const nowS = clock.nowS();
    const gone = await store.prune({
      rawBefore: nowS - retention.rawDays * 86_400,
      minutesBefore: nowS - retention.minuteDays * 86_400,
    });
    if (gone > 0) log.info({ rows: gone }, "old data deleted");
  }

  #publish(topic: string, payload: string, options: { qos?: 0 | 1; retain?: boolean } = {}): void {
    this.#link?.publish(topic, payload, options).catch((error: unknown) => {
      this.#options.log.warn({ topic, error: String(error) }, "not published");
    });
  }

  #publishConfigs(site: string): void {
    const ofSite = (one: { site: string }) => one.site === site;
    const duties = nodeDuties(
      this.directory
        .stations()
        .filter(ofSite)
        .map(({ document }) => document),
      this.directory
        .supplies()
        .filter(ofSite)
        .map(({ document }) => document),
    );
    // A node that was taken away keeps nothing of the station that it was at.
    const released = this.registry
      .all()
      .filter((one) => ofSite(one) && this.directory.wasEverBound(site, one.node))
      .map(({ node }) => node)
      .filter((node) => !duties.has(node));
    for (const node of [...duties.keys(), ...released]) {
      const config = nodeConfig(duties.get(node) ?? null);
      this.#publish(nodeTopic(site, node, "config"), JSON.stringify(config), {
        qos: 1,
        retain: true,
      });
    }
  }

  /** On the whole minute, so that the announced second is exact. */
  #announceTime(): void {
    const { clock, site } = this.#options;
    const nowS = clock.nowS();
    const nextS = (Math.floor(nowS / timeAnnouncementS) + 1) * timeAnnouncementS;
    const cancel = clock.after(nextS - nowS, () => {
      const unix = Math.round(clock.nowS());
      const sites = new Set([site, ...this.directory.sites()]);
      for (const { site: heard } of this.registry.all()) sites.add(heard);
      for (const one of sites) this.#publish(timeTopic(one), JSON.stringify({ unix }));
      this.#timers.splice(this.#timers.indexOf(cancel), 1);
      this.#announceTime();
    });
    this.#timers.push(cancel);
  }

  #tellNode(site: string, node: string): void {
    const record = this.registry.get(site, node);
    if (!record) return;
    const owner = this.directory.ownerOf(site, node, Number.MAX_SAFE_INTEGER);
    this.bus.emit("status", {
      now: this.#options.clock.nowS(),
      id: owner?.startsWith("station:") ? `${site}.${owner.slice("station:".length)}` : null,
      node,
      state: record.state,
    });
  }
}
