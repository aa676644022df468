import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { Estimate } from "../../../shared-core/estimation/estimate.ts";
import { decodeState, encodeState } from "../../../shared-core/estimation/state-codec.ts";
import { restoreSupplyEngine } from "../../../shared-core/estimation/supply-engine.ts";

const statesOf = (version: number) =>
  (
    JSON.parse(
      readFileSync(new URL(`./states/version-${version}.json`, import.meta.url), "utf8"),
    ) as { stations: Record<string, { state: string; last: Estimate }> }
  ).stations;

const older = [3, 7, 8, 9, 11, 12, 13, 14, 15, 16].flatMap((version) =>
  Object.entries(statesOf(version)).map(([name, saved]) => ({ version, name, saved })),
);

describe("packed state", () => {
  it("comes back to the last bit", () => {
    const value = {
      numbers: [0, -0, 1, 127, 128, -1, -128, -129, 32767, 32768, 1763987362, 1763987362.1587489],
      odd: [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 2 ** 31, -(2 ** 31)],
      tiny: [Number.MIN_VALUE, 1e-300, 0.1, Math.fround(0.1), Number.MAX_SAFE_INTEGER],
      truth: [true, false, null],
      text: ["", "offline", "Lötstelle – 焊"],
      doubles: Float64Array.of(0, -0, 1.5, 0, Number.NaN, 1e-12, 0, 0, 0, 3),
      singles: Float32Array.of(0, 0.25, -1),
      bytes: Uint8Array.of(0, 0, 7, 8, 0, 255, 0, 0),
      nested: [{ a: { b: [] } }, []],
    };
    expect(decodeState(encodeState(value))).toStrictEqual(value);
    const again = ["float", { float: "float", "": ["", "float", { float: 1 }] }];
    expect(decodeState(encodeState(again))).toStrictEqual(again);
    // A word that stands a hundred times takes two bytes each time.
    expect(encodeState(Array(100).fill("over-flow")).length).toBeLessThan(300);
    const all = Uint8Array.from({ length: 300 }, (_, k) => k & 255);
    expect(decodeState(encodeState(all))).toStrictEqual(all);
    expect(decodeState(encodeState(new Uint8Array(168)))).toStrictEqual(new Uint8Array(168));
  });

  it("that is cut short or foreign is refused", () => {
    const text = encodeState([1, 2.5, "abc", Float64Array.of(1, 2, 3)]);
    for (let k = 0; k < text.length - 4; k += 4) {
      expect(() => decodeState(text.slice(0, k))).toThrow();
    }
    expect(() => decodeState("Dw==")).toThrow("unknown mark");
    expect(() => decodeState("DgM=")).toThrow("never stood before");
    expect(() => restoreSupplyEngine('{"version":6}')).toThrow("not an estimator state");
    expect(() => restoreSupplyEngine("nonsense")).toThrow(SyntaxError);
  });
});

describe("a state that an earlier version wrote", () => {
  it.each(older)("$version, $name: goes on with what it had learnt", ({ version, saved }) => {
    const engine = restoreSupplyEngine(saved.state);
    const { last } = saved;
    const station = (JSON.parse(saved.state) as { setup: { stations: { node: string }[] } }).setup;
    const samples = (t: number) =>
      [
        { channel: "cylinder-temperature", t, value: last.measured!.cylinderC },
        { channel: "cylinder-pressure", t, value: last.measured!.cylinderPa },
        { channel: "line-pressure", t, value: last.measured!.linePa },
      ].flatMap((one) => (one.value === null ? [] : [{ ...one, value: one.value }]));
    const lines = [1, 2, 3].flatMap((k) => {
      const t = last.t + 5 * k;
      const pack = { boot: 1, seq: null, thinned: false, stampedAtReceipt: false };
      const node = station.stations[0]!.node;
      return engine.receive({ received: t, pack: { ...pack, node, samples: samples(t) } });
    });
    const { estimate } = lines.at(-1)!;
    expect(estimate.mode).toBe(last.mode);
    expect(Math.abs(estimate.content.litres! / last.content.litres! - 1)).toBeLessThan(0.003);
    // The conductance is the one that three hours had taught, not the prior's.
    const told = (line: Estimate) => (line.flow.lpm ? line.flow : line.expected!);
    expect(Math.abs(told(estimate).lpm! / told(last).lpm! - 1)).toBeLessThan(0.02);
    const width = (line: Estimate) => (told(line).high! - told(line).low!) / told(line).lpm!;
    expect(width(estimate)).toBeLessThan(1.5 * width(last) + 0.02);
    // What is written now is of the present version, and goes on exactly.
    const text = engine.serialise();
    expect(JSON.parse(text).version).toBeGreaterThan(version);
    expect(restoreSupplyEngine(text).serialise()).toBe(text);
  });

  it("11, saved while idle: the next gas-on is followed from its first second", () => {
    const { state, last } = statesOf(11)["tig-idle"]!;
    const engine = restoreSupplyEngine(state);
    const { cylinderPa, linePa } = last.measured!;
    const node = (JSON.parse(state) as { setup: { stations: { node: string }[] } }).setup;
    const lines = Array.from({ length: 60 }, (_, k) => {
      const t = last.t + 15 + k;
      // The flowing level that these hours had taught lies 0.445 bar below the idle one.
      const pa = k < 3 ? linePa! : linePa! - 44_500 + 300 * (k % 3);
      const samples = [
        { channel: "cylinder-pressure", t, value: cylinderPa! - 290 * Math.max(k - 3, 0) },
        { channel: "line-pressure", t, value: pa },
      ];
      const pack = { boot: 1, seq: null, thinned: false, stampedAtReceipt: false };
      return engine.receive({
        received: t,
        pack: { ...pack, node: node.stations[0]!.node, samples },
      });
    }).flat();
    const { estimate } = lines.at(-1)!;
    expect(estimate.mode).toBe("flowing");
    expect(Math.abs(estimate.flow.lpm! / last.expected!.lpm! - 1)).toBeLessThan(0.02);
  });

  it("15, reminded of its line and welding again since: a second reminder comes that day, and no third", () => {
    const { state, last } = statesOf(15).reminded!;
    const engine = restoreSupplyEngine(state);
    const { cylinderPa, linePa, cylinderC } = last.measured!;
    const node = (JSON.parse(state) as { setup: { stations: { node: string }[] } }).setup;
    const reminded: number[] = [];
    const hold = (fromS: number, toS: number, stepS: number, pa: number) => {
      for (let s = fromS; s < toS; s += stepS) {
        const t = last.t + s;
        const samples = [
          { channel: "cylinder-temperature", t, value: cylinderC! },
          { channel: "cylinder-pressure", t, value: cylinderPa! },
          // A sensor that lives trembles.
          { channel: "line-pressure", t, value: pa + 300 * ((s / stepS) % 3) },
        ];
        const pack = { boot: 1, seq: null, thinned: false, stampedAtReceipt: false };
        const item = { received: t, pack: { ...pack, node: node.stations[0]!.node, samples } };
        for (const { estimate } of engine.receive(item)) {
          for (const { event, t } of estimate.events) {
            if (event === "line-left-under-pressure") reminded.push(t - last.t);
          }
        }
      }
    };
    // Gas went off at 15:06, 23 min before.
    hold(15, 3600, 15, linePa!);
    expect(reminded).toEqual([expect.any(Number)]);
    expect(Math.abs(reminded[0]! - 37 * 60)).toBeLessThan(120);
    hold(3600, 3660, 1, linePa! - 44_500);
    hold(3660, 9000, 15, linePa!);
    expect(reminded).toHaveLength(1);
    // The next day it begins anew.
    hold(9000, 86_400, 60, linePa!);
    expect(reminded).toHaveLength(2);
  });
});
