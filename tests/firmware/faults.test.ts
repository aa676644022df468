import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { quietWorld, type SenmlRecord, TestNode } from "./host.ts";

let node: TestNode;

beforeEach(async () => {
  node = new TestNode(quietWorld(), new Map([["boot", "16"]]));
  await node.start();
  node.run(60);
});

afterEach(() => node.stop());

function last(name: string): SenmlRecord | undefined {
  return node.packs.at(-1)?.find((record) => record.n === name);
}

function hasValue(name: string): boolean {
  return node.packs.at(-1)?.some((record) => record.n === name) ?? false;
}

/** Five readings of a channel whose wire gives this share of the supply. */
function share(of: number): number[] {
  return [0, 1, 2, 3, 4].map((step) => Math.round(5_000_000 * of) + step * 188);
}

describe("faults of a pressure channel", () => {
  const cases: [string, number[], string][] = [
    ["a broken wire", share(0.01), "open-circuit"],
    ["a wire that touches the supply", share(0.99), "short-circuit"],
    ["a pressure far below zero", share(0.07), "out-of-range"],
    ["a pressure above the range", share(0.945), "out-of-range"],
  ];
  for (const [name, raw, fault] of cases) {
    test(`${name} is ${fault}: sent at once, the value omitted, repeated while it lasts`, () => {
      const before = node.packs.length;
      node.world.raw[1] = raw;
      node.run(1);
      expect(node.packs.length).toBeGreaterThan(before);
      expect(last("line-pressure/fault")?.vs).toBe(fault);
      node.run(200);
      expect(last("line-pressure/fault")?.vs).toBe(fault);
      expect(hasValue("line-pressure")).toBe(false);
      expect(hasValue("cylinder-pressure")).toBe(true);
      node.world.raw[1] = undefined;
      node.run(130);
      expect(last("line-pressure/fault")).toBeUndefined();
      expect(hasValue("line-pressure")).toBe(true);
    });
  }

  test("one wild reading in five leaves no trace", () => {
    const settled = node.packs.length;
    node.world.noisePa = 100;
    for (let turn = 0; turn < 400; turn++) {
      const calm = 0.1 + 0.8 * 0.345;
      node.world.raw[1] = share(calm);
      if (turn % 3 === 0) node.world.raw[1][turn % 5] = turn % 2 === 0 ? 0 : 5_000_000;
      node.run(0.25);
    }
    const line = node.packs.slice(settled).flat();
    expect(line.some((record) => record.n === "line-pressure/fault")).toBe(false);
    const values = line.filter((record) => record.n === "line-pressure").map((one) => one.v ?? 0);
    expect(values.length).toBeGreaterThan(4);
    for (const value of values) expect(Math.abs(value - 345_000)).toBeLessThan(700);
  });

  test("a single turn without readings is left out, not reported as a fault", () => {
    node.world.raw[1] = share(0.01);
    node.run(0.25);
    node.world.raw[1] = undefined;
    node.run(90);
    expect(node.packs.flat().some((record) => record.n === "line-pressure/fault")).toBe(false);
  });

  test("a converter that does not answer: both channels open-circuit, the node goes on", () => {
    node.world.raw = { 1: [], 2: [], 3: [] };
    node.run(130);
    expect(last("line-pressure/fault")?.vs).toBe("open-circuit");
    expect(last("cylinder-pressure/fault")?.vs).toBe("open-circuit");
    expect(last("supply-voltage")).toBeUndefined();
    expect(last("cylinder-temperature")?.v).toBe(20);
    node.world.raw = {};
    node.run(130);
    expect(hasValue("line-pressure")).toBe(true);
  });

  test("a sagging supply changes nothing while it is measured; below 4 V nothing is believed", () => {
    node.world.supplyUv = 4_600_000;
    node.run(130);
    expect(Math.abs((last("line-pressure")?.v ?? 0) - 345_000)).toBeLessThan(1000);
    expect(last("supply-voltage")?.v).toBe(4.6);
    node.world.supplyUv = 3_500_000;
    node.run(130);
    expect(last("line-pressure/fault")?.vs).toBe("out-of-range");
  });

  test("a channel that trembles by more than 2 % of its range is noisy, its value stays", () => {
    node.world.noisePa = 40_000;
    node.run(120);
    expect(last("line-pressure/fault")?.vs).toBe("noisy");
    expect(hasValue("line-pressure")).toBe(true);
  });

  test("the very same readings for half an hour under pressure are stuck", () => {
    node.world.raw[2] = [3_380_062, 3_380_062, 3_380_062, 3_380_062, 3_380_062];
    node.run(1700);
    expect(last("cylinder-pressure/fault")).toBeUndefined();
    node.run(200);
    expect(last("cylinder-pressure/fault")?.vs).toBe("stuck");
    expect(hasValue("cylinder-pressure")).toBe(true);
    node.world.raw[2] = undefined;
    node.run(130);
    expect(last("cylinder-pressure/fault")).toBeUndefined();
  });
});

describe("temperature probes", () => {
  test("85 °C at power-on is not reported as a temperature", async () => {
    node.stop();
    const world = quietWorld();
    world.temperatures = [85, 21, undefined];
    node = new TestNode(world);
    await node.start();
    node.run(3);
    expect(hasValue("cylinder-temperature")).toBe(false);
    world.temperatures = [20.0625, 21, undefined];
    node.run(130);
    expect(last("cylinder-temperature")?.v).toBe(20.06);
    expect(node.packs.flat().some((record) => record.n === "cylinder-temperature/fault")).toBe(
      false,
    );
  });

  test("a probe that stays at 85 °C is out of range; a true 85 °C after warming is believed", () => {
    node.world.temperatures = [85, 84, undefined];
    node.run(130);
    expect(last("cylinder-temperature/fault")?.vs).toBe("out-of-range");
    node.world.temperatures = [20, 85, undefined];
    node.run(130);
    expect(last("regulator-temperature")?.v).toBe(85);
    expect(last("cylinder-temperature")?.v).toBe(20);
  });

  test("a probe that stops answering is an open circuit; a missing one says nothing", () => {
    node.world.temperatures = [-1000, 21, undefined];
    node.run(130);
    expect(last("cylinder-temperature/fault")?.vs).toBe("open-circuit");
    expect(hasValue("cylinder-temperature")).toBe(false);
    expect(hasValue("ambient-temperature")).toBe(false);
  });
});
