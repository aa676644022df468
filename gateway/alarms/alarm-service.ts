import { bleedAdvice, lineLimitPa } from "@leeward/shared-core/alarms/idle-line-advice.ts";
import { says } from "@leeward/shared-core/alarms/language/said.ts";
import { nodeClockWrong } from "@leeward/shared-core/alarms/node-clock-wrong.ts";
import { nodeSilent } from "@leeward/shared-core/alarms/node-silent.ts";
import type { RefusedClock } from "@leeward/shared-core/alarms/refused-clock.ts";
import { siteSayUnits } from "@leeward/shared-core/alarms/wording.ts";
import type { AlarmMeasures } from "@leeward/shared-core/api/alarms.ts";
import type { SiteDocument, StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { ActiveAlarm, Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import type { Clock } from "../clock.ts";
import type { Logger } from "../log.ts";
import { Notifier, type NotifierOptions } from "../notify/notifier.ts";
import type { AlarmStore } from "../store/alarm-store.ts";
import { AlarmLifeCycle } from "./life-cycle.ts";
import { measureAlarms } from "./measures.ts";
import type { OccurrenceView } from "./open-alarms.ts";
import { RefusedClocks } from "./refused-clocks.ts";

const tickS = 5;
/** An event older than this at its receipt reminds nobody, s. */
const lateAfterS = 120;

export interface AlarmServiceOptions
  extends Omit<NotifierOptions, "onReach" | "standing" | "station" | "alarms" | "language"> {
  store: AlarmStore;
  /** Description of a station; null where it is not (or no longer) set up. */
  station: (id: string) => StationDocument | null;
  /** Node of a supply that a station draws from. */
  supplyNode: (site: string, supply: string) => string | null;
  /** How far the clock of a node runs ahead whose packs are refused for it; null where they are taken. */
  refusedClock?: (site: string, node: string, nowS: number) => RefusedClock | null;
  /** Alarms of a station's latest line, as its engine said them. */
  latestAlarms?: (id: string) => readonly ActiveAlarm[];
  /** Whether every node that is there has had time to be heard; always, where left out. */
  listensLongEnough?: (nowS: number) => boolean;
  /** Every station that is set up. */
  stationIds?: () => readonly string[];
  /** What is said of a site: language and units of its texts. */
  siteDocument?: (site: string) => SiteDocument | undefined;
  /** Told of occurrences whose state changed, once the store has them. */
  onChange?: (changed: readonly OccurrenceView[], nowS: number) => void;
}

/** Alarms with people in them: life cycle, delivery, measures. Fed with the engines' lines. */
export class AlarmService {
  readonly lifeCycle: AlarmLifeCycle;
  readonly notifier: Notifier;
  readonly #clocks: RefusedClocks;
  readonly #latestAlarms: (id: string) => readonly ActiveAlarm[];
  readonly #stationIds: () => readonly string[];
  readonly #listensLongEnough: (nowS: number) => boolean;
  readonly #store: AlarmStore;
  readonly #station: (id: string) => StationDocument | null;
  readonly #clock: Clock;
  readonly #log: Logger;
  #cancelTick: () => void = () => undefined;

  constructor(options: AlarmServiceOptions) {
    const { store, clock, log, station, supplyNode, siteDocument } = options;
    this.#store = store;
    this.#station = station;
    this.#clock = clock;
    this.#log = log;
    this.#latestAlarms = options.latestAlarms ?? (() => []);
    this.#stationIds = options.stationIds ?? (() => []);
    this.#listensLongEnough = options.listensLongEnough ?? (() => true);
    this.#clocks = new RefusedClocks({
      refused: options.refusedClock ?? (() => null),
      station,
      supplyNode,
      siteDocument: siteDocument ?? (() => undefined),
    });
    this.notifier = new Notifier({
      ...options,
      alarms: store,
      station: (site, name) => {
        const document = station(`${site}.${name}`);
        const node =
          document?.node ?? (document?.supply ? supplyNode(site, document.supply) : null);
        const units = siteSayUnits(document?.flowDevice?.readingUnit, siteDocument?.(site)?.units);
        return { name: document?.name ?? name, node, units };
      },
      language: () => siteDocument?.(options.site)?.language,
      standing: () => this.lifeCycle.list(),
      onReach: (site, alarms) => this.lifeCycle.site(site, alarms, clock.nowS()),
    });
    this.lifeCycle = new AlarmLifeCycle({
      store,
      plan: (occurrence, rangS, nowS) => this.notifier.plan(occurrence, rangS, nowS),
      onWritten: (changed) => {
        this.notifier.wake();
        options.onChange?.(changed, clock.nowS());
      },
      onError: (error) => log.error({ error: String(error) }, "alarms not written"),
      supplyOf: (id) => station(id)?.supply ?? null,
    });
  }

  /** Reads what stood. Call before the first line. */
  async load(): Promise<void> {
    await this.notifier.load();
    await this.lifeCycle.load();
    this.#clocks.load(this.lifeCycle.list(), this.#clock.nowS());
  }

  /** Takes one line of a station's engine, the late ones too. */
  take(site: string, station: string, estimate: Estimate): void {
    const nowS = this.#clock.nowS();
    const id = `${site}.${station}`;
    if (estimate.mode !== "silent") this.#clocks.heard(id);
    this.#clocks.tell(id, nowS);
    const over = this.#clocks.over(id, estimate.alarms, nowS);
    this.lifeCycle.take(site, station, { t: estimate.t, ...over }, nowS);
    if (estimate.events.length > 0) this.#remind(site, station, estimate, nowS);
  }

  /** Alarms of a station as people see them, given those of its latest line. */
  shown(id: string, alarms: readonly ActiveAlarm[]): ActiveAlarm[] {
    return this.#clocks.over(id, alarms, this.#clock.nowS()).alarms;
  }

  /** Packs of a station's node are refused for their clock, or no longer: says so at once. */
  judgeClock(id: string): void {
    const nowS = this.#clock.nowS();
    const document = this.#station(id);
    if (document === null || !this.#clocks.tell(id, nowS).news) return;
    const over = this.#clocks.over(id, this.#latestAlarms(id), nowS);
    const { site, station } = document;
    const line = { t: nowS, ...over };
    this.lifeCycle.beside(site, station, nodeClockWrong.condition, line, nowS);
  }

  /** Begins to deliver, and to let time pass. */
  start(): void {
    this.notifier.start();
    this.#cancelTick = this.#clock.every(tickS, () => {
      this.lifeCycle.tick(this.#clock.nowS());
      for (const id of this.#stationIds()) {
        this.judgeClock(id);
        this.#silenceHolds(id);
      }
    });
  }

  /**
   * No line follows that of a silent node, however long it is silent: it holds now, whenever it came due. One
   * that the gateway found out late rings then.
   */
  #silenceHolds(id: string): void {
    const nowS = this.#clock.nowS();
    const document = this.#station(id);
    const alarms = this.#latestAlarms(id);
    const silent = alarms.some(({ condition }) => condition === nodeSilent.condition);
    if (document === null || !silent || !this.#listensLongEnough(nowS)) return;
    this.lifeCycle.stillHolds(document.site, document.station, this.shown(id, alarms), nowS);
  }

  async stop(): Promise<void> {
    this.#cancelTick();
    await this.lifeCycle.settled();
    await this.notifier.stop();
  }

  async measures(days: number): Promise<AlarmMeasures> {
    const to = this.#clock.nowS();
    const from = to - days * 86_400;
    const raised = await this.#store.annunciations(from, to);
    return measureAlarms(raised, this.lifeCycle.list(), { from, to });
  }

  /** A line left under pressure in the evening is a reminder, no alarm. */
  #remind(site: string, station: string, estimate: Estimate, nowS: number): void {
    for (const { event, t, forecastPa } of estimate.events) {
      if (event !== "line-left-under-pressure" || nowS - t > lateAfterS) continue;
      const document = this.#station(`${site}.${station}`);
      if (!document) continue;
      const limitPa = lineLimitPa(document);
      const stays = forecastPa !== undefined && limitPa !== null && forecastPa < limitPa;
      const said = {
        title: [says("bleed-before-leaving")],
        advice: [bleedAdvice(document)],
      };
      const ofToday = stays ? [says("heat-alone", { pa: forecastPa, limitPa })] : [];
      const reminder = { key: event, said, ofToday, t };
      this.notifier.remind(site, station, reminder).catch((error: unknown) => {
        this.#log.error({ error: String(error) }, "reminder not stored");
      });
    }
  }
}
