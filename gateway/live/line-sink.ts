import type { StationLine } from "@leeward/shared-core/estimation/engine.ts";
import type { ActiveAlarm, Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import type { GatewayStore, NewJournalEntry, SeriesValue, WriteBatch } from "../store/store.ts";
import type { LiveBus } from "./bus.ts";

/** While nothing flows one line in fifteen is kept as raw history; the figures hardly move. */
const idleLineS = 15;
/** Values that wait before they are written even if no timer asks for it. */
const bufferLimit = 20_000;

/** Takes the engines' lines: latest estimates, history, journal, live events. */
export class LineSink {
  readonly #store: GatewayStore;
  readonly #bus: LiveBus;
  readonly #lastSample: (site: string, station: string) => string | null;
  readonly #onLine: (site: string, station: string, estimate: Estimate) => void;
  readonly #shown: (id: string, alarms: readonly ActiveAlarm[]) => ActiveAlarm[];
  readonly #latest = new Map<string, Estimate>();
  readonly #dirty = new Set<string>();
  readonly #alarms = new Map<string, Map<string, ActiveAlarm>>();
  #values: SeriesValue[] = [];
  #journal: NewJournalEntry[] = [];

  constructor(options: {
    store: GatewayStore;
    bus: LiveBus;
    lastSample: (site: string, station: string) => string | null;
    /** Every line, those of a past that is read again too. */
    onLine?: (site: string, station: string, estimate: Estimate) => void;
    /** Alarms as people see them, given those of a line. */
    shown?: (id: string, alarms: readonly ActiveAlarm[]) => ActiveAlarm[];
  }) {
    this.#store = options.store;
    this.#bus = options.bus;
    this.#lastSample = options.lastSample;
    this.#onLine = options.onLine ?? (() => undefined);
    this.#shown = options.shown ?? ((_id, alarms) => [...alarms]);
  }

  /** Estimates of the last run, shown until newer ones come. */
  async load(): Promise<void> {
    for (const [station, text] of await this.#store.latestEstimates()) {
      const estimate = JSON.parse(text) as Estimate;
      this.#latest.set(station, estimate);
      this.#alarms.set(station, byCondition(estimate.alarms));
    }
  }

  /** The latest estimate, with the alarms that people see. */
  latest(stationId: string): Estimate | null {
    const estimate = this.#latest.get(stationId);
    return estimate ? this.#asShown(stationId, estimate) : null;
  }

  /** Alarms of the latest line as the engine said them. */
  latestAlarms(stationId: string): readonly ActiveAlarm[] {
    return this.#latest.get(stationId)?.alarms ?? [];
  }

  #asShown(id: string, estimate: Estimate): Estimate {
    return { ...estimate, alarms: this.#shown(id, estimate.alarms) };
  }

  /** Takes lines of one supply; `quiet` while an engine reads its past. */
  take(site: string, lines: readonly StationLine[], nowS: number, quiet: boolean): void {
    const newest = new Map<string, Estimate>();
    for (const { station, estimate } of lines) {
      const id = `${site}.${station}`;
      this.#keep(id, estimate);
      this.#note(site, station, id, estimate, nowS, quiet);
      this.#onLine(site, station, estimate);
      this.#latest.set(id, estimate);
      this.#dirty.add(id);
      newest.set(station, estimate);
    }
    if (quiet) return;
    for (const [station, estimate] of newest) {
      const lastSample = this.#lastSample(site, station);
      const id = `${site}.${station}`;
      const shown = this.#asShown(id, estimate);
      this.#bus.emit("estimate", { id, now: nowS, estimate: shown, lastSample });
    }
  }

  get needsFlush(): boolean {
    return this.#values.length >= bufferLimit;
  }

  /** What waits to be written; the caller writes it. */
  drain(): Pick<WriteBatch, "values" | "journal" | "latest"> {
    const latest = [...this.#dirty].map((station) => {
      const estimate = this.#latest.get(station)!;
      return { station, t: estimate.t, estimate: JSON.stringify(estimate) };
    });
    const drained = { values: this.#values, journal: this.#journal, latest };
    this.#values = [];
    this.#journal = [];
    this.#dirty.clear();
    return drained;
  }

  async flush(): Promise<void> {
    const drained = this.drain();
    if (drained.values?.length || drained.journal?.length || drained.latest?.length) {
      await this.#store.write(drained);
    }
  }

  #keep(id: string, estimate: Estimate): void {
    const flowing = estimate.mode === "flowing";
    if (!flowing && estimate.t % idleLineS !== 0 && estimate.events.length === 0) return;
    const weight = flowing ? 1 : idleLineS;
    const owner = `station:${id}`;
    const keep = (name: string, value: number | null | undefined) => {
      if (typeof value === "number" && Number.isFinite(value)) {
        this.#values.push({ owner, name, t: estimate.t, value, weight });
      }
    };
    keep("flow", estimate.flow.lpm);
    keep("flow-low", estimate.flow.low);
    keep("flow-high", estimate.flow.high);
    keep("indicated", estimate.indicated.reading);
    keep("content", estimate.content.litres);
    if (!flowing) keep("leak", estimate.leak.litresPerMinute);
  }

  #note(
    site: string,
    station: string,
    id: string,
    estimate: Estimate,
    nowS: number,
    quiet: boolean,
  ): void {
    const base = { recorded: nowS, site, station, node: null };
    for (const { t, event, ...detail } of estimate.events) {
      this.#journal.push({ ...base, t, kind: event, detail });
    }
    // What a weld needed then, for whoever looks back; told when it changes.
    const demand = demandOf(estimate);
    if (JSON.stringify(demand) !== JSON.stringify(demandOf(this.#latest.get(id) ?? null))) {
      this.#journal.push({ ...base, t: estimate.t, kind: "demand", detail: { ...demand } });
    }
    const before = this.#alarms.get(id) ?? new Map<string, ActiveAlarm>();
    const now = byCondition(estimate.alarms);
    let changed = before.size !== now.size;
    for (const [condition, alarm] of now) {
      if (before.get(condition)?.since === alarm.since) {
        changed ||= before.get(condition)?.priority !== alarm.priority;
        continue;
      }
      changed = true;
      this.#journal.push({ ...base, t: estimate.t, kind: "alarm-active", detail: { ...alarm } });
    }
    for (const [condition, alarm] of before) {
      if (now.has(condition)) continue;
      const detail = { condition, since: alarm.since };
      this.#journal.push({ ...base, t: estimate.t, kind: "alarm-cleared", detail });
    }
    this.#alarms.set(id, now);
    if (changed && !quiet) {
      this.#bus.emit("alarm", { id, now: nowS, alarms: this.#shown(id, estimate.alarms) });
    }
  }
}

/** The flow window of an estimate; null where there was no estimate before. */
function demandOf(estimate: Estimate | null) {
  if (estimate === null) return null;
  const { minimumLpm = null, targetLpm = null, maximumLpm = null } = estimate.demand ?? {};
  return { minimumLpm, targetLpm, maximumLpm };
}

function byCondition(alarms: readonly ActiveAlarm[]): Map<string, ActiveAlarm> {
  return new Map(alarms.map((alarm) => [alarm.condition, alarm]));
}
