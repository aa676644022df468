import type { CylinderRecord, Rack, RackMove } from "@leeward/shared-core/api/rack.ts";
import type { CylinderDocument } from "@leeward/shared-core/documents/cylinder.ts";
import type { StationDocument, SupplyDocument } from "@leeward/shared-core/documents/station.ts";
import { UNDO_LIMIT_S } from "@leeward/shared-core/estimation/undoable-engine.ts";
import { fullLastsMinutes, type GasStation, reorder } from "@leeward/shared-core/rack/reorder.ts";
import type { Clock } from "../clock.ts";
import type { StationRecord, SupplyRecord } from "../live/directory.ts";
import { type StationService, toRfc3339 } from "../live/station-service.ts";
import type { GatewayStore } from "../store/store.ts";
import { fullLitres, snapshotOf, swapOf } from "./cylinder-snapshot.ts";
import { FullLasts } from "./full-lasts.ts";
import {
  demoCylinderId,
  isDemoCylinder,
  type NewMove,
  type RackStore,
  type StoredCylinder,
} from "./rack-store.ts";

const movesShown = 200;
const defaults = { leadDays: 3, coverDays: 14 };

export type RackResult =
  | { ok: true }
  | {
      ok: false;
      kind: "not-found" | "nothing-to-do" | "version-conflict" | "invalid-document";
      why: string;
    };

/** What stood before a change: what an undo brings back. */
interface Before {
  cylinder: CylinderDocument | null;
  takenOff: string | null;
}

export interface RackServiceOptions {
  rack: RackStore;
  store: Pick<GatewayStore, "fact" | "saveFact">;
  clock: Clock;
  stations: () => StationRecord[];
  /** The supply of this id, as it is described; null where there is none. */
  supply: (id: string) => SupplyRecord | null;
  service: StationService;
}

/** Cylinders of a shop: where each is, what is fitted, what to order. */
export class RackService {
  readonly #options: RackServiceOptions;
  #working: Promise<unknown> = Promise.resolve();
  readonly #fullLasts: FullLasts;

  constructor(options: RackServiceOptions) {
    this.#options = options;
    this.#fullLasts = new FullLasts(options.store);
  }

  /** Keeps how long a full cylinder lasts at every station, whether or not somebody looks at the Rack. */
  async keepHabits(): Promise<void> {
    for (const station of this.#options.stations()) await this.#gasOf(station);
  }

  /** All of a site. */
  async view(site: string): Promise<Rack> {
    const { rack, clock, service } = this.#options;
    const nowS = clock.nowS();
    const cylinders = await rack.list(site);
    const moves = await rack.moves(site, movesShown);
    const { leadDays, coverDays } = await this.settings(site);
    const inStore = new Map<string, number>();
    for (const { place, record } of cylinders) {
      if (place === "store") inStore.set(record.gas, (inStore.get(record.gas) ?? 0) + 1);
    }
    const stations = this.#options.stations().filter((station) => station.site === site);
    const gases: GasStation[] = [];
    for (const station of stations) gases.push(...(await this.#gasOf(station)));
    return {
      site,
      currency: service.sites.currencyOf(site),
      leadDays,
      coverDays,
      cylinders: cylinders.map(({ site: _, since, ...one }) => ({
        ...one,
        since: toRfc3339(since),
        fullLitres: fullLitres(one.record),
      })),
      reorder: reorder({
        nowS,
        stations: gases,
        inStore,
        leadDays,
        coverDays,
      }),
      moves: moves.map(({ t, seq: _, before: __, ...move }) => ({ ...move, time: toRfc3339(t) })),
      undoable: moves
        .filter((move, index) => canUndo(move, moves.slice(0, index), nowS))
        .map((move) => ({
          station: move.station ?? "",
          until: toRfc3339(move.t + UNDO_LIMIT_S),
        })),
    };
  }

  async settings(site: string): Promise<{ leadDays: number; coverDays: number }> {
    const text = await this.#options.store.fact(`rack:${site}`);
    return text === null ? defaults : (JSON.parse(text) as typeof defaults);
  }

  saveSettings(site: string, settings: { leadDays: number; coverDays: number }): Promise<void> {
    return this.#options.store.saveFact(`rack:${site}`, JSON.stringify(settings));
  }

  /** Adds a cylinder to the store, or changes what is written of one. */
  put(site: string, id: string, record: CylinderRecord, seen: number): Promise<RackResult> {
    return this.#one(async () => {
      const { rack, clock } = this.#options;
      const all = await rack.list(site);
      const before = all.find((one) => one.id === id);
      if ((before?.version ?? 0) !== seen) {
        const why = `the version here is ${before?.version ?? 0}: look at what has changed, and save again`;
        return { ok: false, kind: "version-conflict", why };
      }
      // An id is one cylinder's, whatever the site.
      if (!before && (await rack.get(id)) !== null) {
        const why = `the id ${id} is that of a cylinder at another site: give this one another id`;
        return { ok: false, kind: "invalid-document", why };
      }
      if (!before && isDemoCylinder(id)) {
        const why = `${id} would be deleted with the demo, whose cylinders have ids that begin with "${demoCylinderId("")}": give this one another id`;
        return { ok: false, kind: "invalid-document", why };
      }
      if (all.some((one) => one.id !== id && one.record.serial === record.serial)) {
        const why = `serial ${record.serial} is in the rack already`;
        return { ok: false, kind: "invalid-document", why };
      }
      const t = clock.nowS();
      const next: StoredCylinder = before
        ? { ...before, version: seen + 1, record }
        : { id, site, version: 1, record, place: "store", station: null, since: t };
      await rack.write(site, [next], [move(next, before ? "changed" : "arrived", t, null)]);
      return { ok: true };
    });
  }

  /** Fits a full cylinder of the store to a station: one swap, one snapshot, one undo. */
  fit(id: string, station: StationRecord, by: string): Promise<RackResult> {
    return this.#one(async () => {
      const { rack, service } = this.#options;
      const cylinder = await rack.get(id);
      if (!cylinder || cylinder.site !== station.site) {
        return { ok: false, kind: "not-found", why: `there is no cylinder ${id} in the rack` };
      }
      if (cylinder.place !== "store") {
        const why = `cylinder ${cylinder.record.serial} is not in store: it is ${cylinder.place}`;
        return { ok: false, kind: "nothing-to-do", why };
      }
      const described = station.document.cylinder ?? null;
      if (described === null) {
        const why = `${station.station} draws from supply ${station.document.supply}: it has no cylinder of its own`;
        return { ok: false, kind: "nothing-to-do", why };
      }
      const saved = await this.#describe(station, snapshotOf(cylinder.record, described));
      if (saved !== null) return { ok: false, kind: "invalid-document", why: saved };
      const t = await service.say(station, { swap: swapOf(cylinder.record) });
      const off = await this.#takeOff(station, t);
      const before: Before = { cylinder: described, takenOff: off?.id ?? null };
      const fitted: StoredCylinder = {
        ...cylinder,
        place: "fitted",
        station: station.id,
        since: t,
      };
      await rack.write(station.site, off ? [off, fitted] : [fitted], [
        ...(off ? [{ ...move(off, "taken-off", t, by), station: station.id }] : []),
        { ...move(fitted, "fitted", t, by), before },
      ]);
      return { ok: true };
    });
  }

  /**
   * Before a told change: a tare is stamped on one cylinder, and with another's the scale would tell a
   * content that is wrong by kilograms. Resolves with what was described until then.
   */
  newTare(station: StationRecord, tareKg: number | undefined): Promise<CylinderDocument | null> {
    return this.#one(async () => {
      // Also that of a shared supply: a change told at any of its stations is one of its cylinder.
      const described = this.#place(station).document.cylinder ?? null;
      if (described === null || !("filledKg" in described)) return null;
      const { tareKg: old, ...rest } = described;
      if (old === tareKg) return null;
      const next = tareKg === undefined ? rest : { ...rest, tareKg };
      const fault = await this.#describe(station, next as CylinderDocument);
      return fault === null ? described : null;
    });
  }

  /** A change was told elsewhere: what hung there is off; what hangs now is known by its lot alone. */
  told(
    station: StationRecord,
    t: number,
    swap: { lot?: string; serial?: string },
    described: CylinderDocument | null = null,
  ): Promise<void> {
    return this.#one(async () => {
      const { rack } = this.#options;
      const off = await this.#takeOff(station, t);
      const before: Before = { cylinder: described, takenOff: off?.id ?? null };
      const fitted: NewMove = {
        ...{ t, kind: "fitted", cylinder: null, station: station.id, by: null, before },
        serial: swap.serial ?? null,
        lot: swap.lot ?? null,
      };
      await rack.write(station.site, off ? [off] : [], [
        ...(off ? [{ ...move(off, "taken-off", t, null), station: station.id }] : []),
        fitted,
      ]);
    });
  }

  /** Takes back the latest change of a station, within its time. */
  undo(station: StationRecord, by: string): Promise<RackResult> {
    return this.#one(async () => {
      const { rack, clock, service } = this.#options;
      const moves = await rack.moves(station.site, movesShown);
      const nowS = clock.nowS();
      const index = moves.findIndex(
        (one, i) => one.station === station.id && canUndo(one, moves.slice(0, i), nowS),
      );
      const last = moves[index];
      if (!last) {
        const why = `no change of ${station.station} was told in the last ${UNDO_LIMIT_S / 60} minutes, or it was taken back already`;
        return { ok: false, kind: "nothing-to-do", why };
      }
      const before = last.before as Before;
      const t = await service.say(station, { undo: "swap" });
      if (before.cylinder !== null) await this.#describe(station, before.cylinder);
      const back: StoredCylinder[] = [];
      const fitted = last.cylinder === null ? null : await rack.get(last.cylinder);
      if (fitted) back.push({ ...fitted, place: "store", station: null, since: t });
      const off = before.takenOff === null ? null : await rack.get(before.takenOff);
      if (off) back.push({ ...off, place: "fitted", station: station.id, since: t });
      const { cylinder, serial, lot } = last;
      await rack.write(station.site, back, [
        { t, kind: "undone", cylinder, serial, lot, station: station.id, by, before: null },
      ]);
      return { ok: true };
    });
  }

  /** Given back to its supplier. */
  giveBack(id: string, by: string): Promise<RackResult> {
    return this.#one(async () => {
      const { rack, clock } = this.#options;
      const cylinder = await rack.get(id);
      if (!cylinder) return { ok: false, kind: "not-found", why: `there is no cylinder ${id}` };
      if (cylinder.place === "fitted" || cylinder.place === "gone") {
        const why = `cylinder ${cylinder.record.serial} is ${cylinder.place}`;
        return { ok: false, kind: "nothing-to-do", why };
      }
      const t = clock.nowS();
      const gone: StoredCylinder = { ...cylinder, place: "gone", station: null, since: t };
      await rack.write(cylinder.site, [gone], [move(gone, "given-back", t, by)]);
      return { ok: true };
    });
  }

  /** The cylinder of the rack that hangs at a station, as taken off at `t`. */
  async #takeOff(station: StationRecord, t: number): Promise<StoredCylinder | null> {
    const fitted = (await this.#options.rack.list(station.site)).find(
      (one) => one.place === "fitted" && one.station === station.id,
    );
    return fitted ? { ...fitted, place: "used", station: null, since: t } : null;
  }

  /** Null where saved or nothing has to change; else what stands against it. */
  async #describe(station: StationRecord, cylinder: CylinderDocument): Promise<string | null> {
    const { service } = this.#options;
    const current = this.#place(station);
    if (JSON.stringify(current.document.cylinder) === JSON.stringify(cylinder)) return null;
    const document = { ...current.document, cylinder } as StationDocument | SupplyDocument;
    const saved = await service.save(document, current.version);
    if (saved.ok) return null;
    return saved.kind === "faults"
      ? saved.faults.map((fault) => `${fault.path}: ${fault.message}`).join("; ")
      : "the station's description was changed meanwhile: look, and try again";
  }

  /** Where the cylinder of a station is described as it stands now: at itself, or at its shared supply. */
  #place(station: StationRecord): StationRecord | SupplyRecord {
    const { stations, supply } = this.#options;
    const current = stations().find((one) => one.id === station.id) ?? station;
    const name = current.document.supply;
    return (name == null ? null : supply(`${current.site}.${name}`)) ?? current;
  }

  async #gasOf(station: StationRecord): Promise<GasStation[]> {
    const { cylinder } = station.document;
    if (!cylinder) return [];
    const estimate = this.#options.service.view(station).estimate;
    const due = estimate?.remaining.clockMinutes.median ?? null;
    const usable = estimate?.content.usableLitres ?? null;
    const full = fullLitres({
      ...{ serial: "-", lot: "", supplier: "", gas: cylinder.gas },
      ...{
        composition: cylinder.composition,
        waterVolumeL: cylinder.waterVolumeL * cylinder.count,
      },
      ...("filledKg" in cylinder
        ? { filledKg: cylinder.filledKg as number }
        : { filledBar: cylinder.filledBar as number, filledC: cylinder.filledC as number }),
    });
    const lasts = await this.#fullLasts.of(station, full, fullLastsMinutes(due, usable, full));
    return [{ gas: cylinder.gas, dueInMinutes: due, fullLastsMinutes: lasts }];
  }

  #one<T>(work: () => Promise<T>): Promise<T> {
    const done = this.#working.then(work);
    this.#working = done.catch(() => undefined);
    return done;
  }
}

/** A change can be taken back while it is the latest of its station and its time is not over. */
function canUndo(
  one: { kind: RackMove["kind"]; station: string | null; t: number },
  newer: readonly { kind: RackMove["kind"]; station: string | null }[],
  nowS: number,
): boolean {
  return (
    one.kind === "fitted" &&
    nowS - one.t <= UNDO_LIMIT_S &&
    !newer.some(
      (other) =>
        other.station === one.station && (other.kind === "fitted" || other.kind === "undone"),
    )
  );
}

function move(
  cylinder: StoredCylinder,
  kind: RackMove["kind"],
  t: number,
  by: string | null,
): NewMove {
  const { serial, lot } = cylinder.record;
  return {
    t,
    kind,
    cylinder: cylinder.id,
    serial,
    lot,
    station: cylinder.station,
    by,
    before: null,
  };
}
