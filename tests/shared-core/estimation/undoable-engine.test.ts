import { describe, expect, test } from "vitest";
import type { ReceivedItem, SupplyEngine } from "../../../shared-core/estimation/engine.ts";
import {
  createUndoableEngine,
  restoreUndoableEngine,
  UNDO_LIMIT_S,
} from "../../../shared-core/estimation/undoable-engine.ts";
import { exampleStation, t0 } from "../../gateway/support.ts";
import { allHours } from "../../hours.ts";

const setup = { supply: null, stations: [exampleStation({ station: "bay-3" })] };

/** A pack of an idle line behind a cylinder at `bar`, ten seconds of it. */
function pack(t: number, bar: number): ReceivedItem {
  return {
    received: t,
    pack: {
      node: "n-07",
      boot: 1,
      seq: Math.round(t),
      thinned: false,
      stampedAtReceipt: false,
      samples: Array.from({ length: 10 }, (_, i) => t - 9 + i).flatMap((at) => [
        { channel: "cylinder-pressure", t: at, value: bar * 1e5 },
        { channel: "line-pressure", t: at, value: 3.6e5 },
        { channel: "cylinder-temperature", t: at, value: 18 },
      ]),
    },
  };
}

const packs = (from: number, to: number, bar: number) =>
  Array.from({ length: (to - from) / 10 }, (_, i) => pack(t0 + from + 10 * (i + 1), bar));

const swap = (at: number): ReceivedItem => ({
  received: t0 + at,
  person: { swap: { filledBar: 200, filledC: 15, lot: "B-2" } },
});
const undo = (at: number): ReceivedItem => ({ received: t0 + at, person: { undo: "swap" } });

function run(engine: SupplyEngine, items: readonly ReceivedItem[]) {
  return items.flatMap((item) => engine.receive(item)).map((line) => line.estimate);
}

const before = packs(0, 600, 60);
const after = packs(600, 1200, 60);
const later = packs(1200, 1800, 60);

describe("a told cylinder change that is taken back", () => {
  test("leaves the estimates as if it had never been told", () => {
    const undone = run(createUndoableEngine(setup, { every: 10 }), [
      ...before,
      swap(605),
      ...after,
      undo(1205),
      ...later,
    ]);
    const never = run(createUndoableEngine(setup, { every: 10 }), [...before, ...after, ...later]);
    const told = run(createUndoableEngine(setup, { every: 10 }), [
      ...before,
      swap(605),
      ...after,
      ...later,
    ]);
    const lastOf = (lines: typeof never) => lines.at(-1)!;
    expect(lastOf(undone)).toEqual(lastOf(never));
    expect(undone.map(({ t }) => t)).toEqual(never.map(({ t }) => t));
    // It made a difference: what was told is not what the sensor shows.
    expect(undone[65]?.content).not.toEqual(never[65]?.content);
    expect(told.map(({ t }) => t)).toEqual(never.map(({ t }) => t));
  });

  test("survives a restart between the change and its undoing", () => {
    const engine = createUndoableEngine(setup, { every: 10 });
    run(engine, [...before, swap(605), ...after.slice(0, 20)]);
    const restored = restoreUndoableEngine(engine.serialise());
    const rest = [...after.slice(20), undo(1205), ...later];
    expect(run(restored, rest)).toEqual(run(engine, rest));
    const plain = createUndoableEngine(setup, { every: 10 });
    run(plain, before);
    expect(() => restoreUndoableEngine(plain.serialise())).not.toThrow();
  });

  test("too late, or with nothing to undo, it changes nothing", () => {
    const engine = createUndoableEngine(setup, { every: 10 });
    run(engine, [...before, swap(605)]);
    const state = restoreUndoableEngine(engine.serialise());
    run(engine, [undo(605 + UNDO_LIMIT_S + 1)]);
    run(state, [{ received: t0 + 605 + UNDO_LIMIT_S + 1, person: { purge: { end: true } } }]);
    expect(run(engine, packs(2600, 2700, 60)).at(-1)?.content).toEqual(
      run(state, packs(2600, 2700, 60)).at(-1)?.content,
    );
  });
});

describe("what undoing costs", () => {
  const told = [...before, swap(605), ...after, ...later];

  test("the state stays a few kilobytes, however much came since the change", () => {
    const engine = createUndoableEngine(setup, { every: 10 });
    run(engine, before);
    const plain = engine.serialise().length;
    run(engine, [swap(605), ...after, ...later]);
    expect(engine.serialise()).toContain("undoable");
    expect(engine.serialise().length).toBeLessThan(2.6 * plain);
  });

  test("a restart at any moment changes no later line", { tags: ["hours"] }, () => {
    const items = [...told.slice(0, 150), undo(1455), ...later.slice(40), swap(1805)];
    const whole = run(createUndoableEngine(setup, { every: 10 }), items);
    for (let cut = 0; cut < items.length; cut += allHours ? 13 : 91) {
      const engine = createUndoableEngine(setup, { every: 10 });
      const first = run(engine, items.slice(0, cut));
      const rest = run(restoreUndoableEngine(engine.serialise()), items.slice(cut));
      expect([...first, ...rest], `cut at ${cut}`).toEqual(whole);
    }
  });

  test("a state that still holds the list of what came since goes on the same", () => {
    const engine = createUndoableEngine(setup, { every: 10 });
    run(engine, before);
    const at = engine.serialise();
    run(engine, [swap(605), ...after]);
    const { undoable, point } = JSON.parse(engine.serialise());
    const listed = { undoable, point: { ...point, engine: at, items: after } };
    const rest = [undo(1205), ...later];
    expect(run(restoreUndoableEngine(JSON.stringify(listed)), rest)).toEqual(run(engine, rest));
  });

  test("undoing of another drop leaves the change undoable", () => {
    const of = (item: ReceivedItem, station: string): ReceivedItem => ({ ...item, station });
    const items = (other: ReceivedItem[]) => [
      ...before,
      of(swap(605), "bay-3"),
      ...after,
      ...other,
      of(undo(1206), "bay-3"),
      ...later,
    ];
    const engines = [items([]), items([of(undo(1205), "bay-4")])].map((list) =>
      run(createUndoableEngine(setup, { every: 10 }), list),
    );
    expect(engines[1]!.at(-1)).toEqual(engines[0]!.at(-1));
    const never = run(createUndoableEngine(setup, { every: 10 }), [...before, ...after, ...later]);
    expect(engines[1]!.at(-1)).toEqual(never.at(-1));
  });
});
