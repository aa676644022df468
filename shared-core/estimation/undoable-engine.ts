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

/** The engine as it stood before a change was told, and all that came since but the change itself. */
interface UndoPoint {
  received: number;
  station: string | null;
  engine: string;
  items: ReceivedItem[];
}

/**
 * A supply's engine whose latest told cylinder change can be taken back: `{ undo: "swap" }` goes
 * back to the state before it and takes in again, without a line, what came since. Lines already
 * written stay as they are. The same items give the same lines, live, in replay and after a restart.
 */
class UndoableEngine implements SupplyEngine {
  #engine: SupplyEngine;
  #point: UndoPoint | null;

  constructor(engine: SupplyEngine, point: UndoPoint | null) {
    this.#engine = engine;
    this.#point = point;
  }

  receive(item: ReceivedItem): StationLine[] {
    if (this.#point && item.received - this.#point.received > UNDO_LIMIT_S) this.#point = null;
    if ("person" in item && item.person.undo === "swap") {
      const { undo: _, ...rest } = item.person;
      const lines = this.#engine.advance(item.received);
      this.#undo(item.station ?? null);
      const more = Object.keys(rest).length > 0 ? this.receive({ ...item, person: rest }) : [];
      return [...lines, ...more];
    }
    if ("person" in item && item.person.swap !== undefined) {
      const { swap: _, ...rest } = item.person;
      this.#point = {
        received: item.received,
        station: item.station ?? null,
        engine: this.#engine.serialise(),
        items: Object.keys(rest).length > 0 ? [{ ...item, person: rest }] : [],
      };
    } else {
      this.#point?.items.push(item);
    }
    return this.#engine.receive(item);
  }

  advance(nowS: number): StationLine[] {
    return this.#engine.advance(nowS);
  }

  serialise(): string {
    const engine = this.#engine.serialise();
    return this.#point === null ? engine : JSON.stringify({ undoable: engine, point: this.#point });
  }

  #undo(station: string | null): void {
    const point = this.#point;
    this.#point = null;
    // Of another drop of the same supply it is another person's change.
    if (!point || (point.station !== null && station !== null && point.station !== station)) return;
    const engine = restoreSupplyEngine(point.engine);
    for (const item of point.items) engine.receive(item);
    this.#engine = engine;
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
  const saved = JSON.parse(text) as { undoable: string; point: UndoPoint };
  return new UndoableEngine(restoreSupplyEngine(saved.undoable), saved.point);
}
