import type {
  EngineOptions,
  ReceivedItem,
  StationLine,
  SupplyEngine,
  SupplySetup,
} from "./engine.ts";
import { createSupplyEngine, restoreSupplyEngine } from "./supply-engine.ts";

/** A cylinder change that was told can be taken back within this time, s. */
export const UNDO_LIMIT_S = 1800;

/** A second engine that never heard of the change; it takes in all that came since but the change. */
interface UndoPoint {
  received: number;
  station: string | null;
  engine: SupplyEngine;
}

/**
 * A supply's engine whose latest told cylinder change can be taken back: `{ undo: "swap" }` goes on
 * with an engine that took in everything but the change, as if it had never been told. Lines already
 * written stay as they are. The same items give the same lines, live, in replay and after a restart.
 * For `UNDO_LIMIT_S` after a told change this costs twice the time and twice the memory.
 */
class UndoableEngine implements SupplyEngine {
  #engine: SupplyEngine;
  #point: UndoPoint | null;

  constructor(engine: SupplyEngine, point: UndoPoint | null) {
    this.#engine = engine;
    this.#point = point;
  }

  receive(item: ReceivedItem): StationLine[] {
    this.#expire(item.received);
    if ("person" in item && item.person.undo === "swap") {
      const { undo: _, ...rest } = item.person;
      const lines = this.advance(item.received);
      this.#undo(item.station ?? null);
      const more = Object.keys(rest).length > 0 ? this.receive({ ...item, person: rest }) : [];
      return [...lines, ...more];
    }
    if ("person" in item && item.person.swap !== undefined) {
      const { swap: _, ...rest } = item.person;
      this.#point = {
        received: item.received,
        station: item.station ?? null,
        engine: restoreSupplyEngine(this.#engine.serialise()),
      };
      if (Object.keys(rest).length > 0) this.#point.engine.receive({ ...item, person: rest });
    } else {
      this.#point?.engine.receive(item);
    }
    return this.#engine.receive(item);
  }

  advance(nowS: number): StationLine[] {
    this.#expire(nowS);
    this.#point?.engine.advance(nowS);
    return this.#engine.advance(nowS);
  }

  serialise(): string {
    const engine = this.#engine.serialise();
    const point = this.#point;
    if (point === null) return engine;
    return JSON.stringify({
      undoable: engine,
      point: { ...point, engine: point.engine.serialise() },
    });
  }

  #expire(nowS: number): void {
    if (this.#point && nowS - this.#point.received > UNDO_LIMIT_S) this.#point = null;
  }

  #undo(station: string | null): void {
    const point = this.#point;
    // Of another drop of the same supply it is another person's change: that one stays undoable.
    if (!point || (point.station !== null && station !== null && point.station !== station)) return;
    this.#engine = point.engine;
    this.#point = null;
  }
}

/** An engine whose told cylinder changes can be undone. @throws Error as `createSupplyEngine` */
export function createUndoableEngine(setup: SupplySetup, options: EngineOptions): SupplyEngine {
  return new UndoableEngine(createSupplyEngine(setup, options), null);
}

/** The engine that `serialise` wrote; also one that was written before it could undo. */
export function restoreUndoableEngine(text: string): SupplyEngine {
  if (!text.startsWith('{"undoable":')) {
    return new UndoableEngine(restoreSupplyEngine(text), null);
  }
  // Earlier versions kept what came since as a list.
  const saved = JSON.parse(text) as {
    undoable: string;
    point: Omit<UndoPoint, "engine"> & { engine: string; items?: ReceivedItem[] };
  };
  const { received, station, items } = saved.point;
  const engine = restoreSupplyEngine(saved.point.engine);
  for (const item of items ?? []) engine.receive(item);
  return new UndoableEngine(restoreSupplyEngine(saved.undoable), { received, station, engine });
}
