import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { quietWorld, TestNode } from "./host.ts";

let node: TestNode;

beforeEach(async () => {
  node = new TestNode(quietWorld());
  await node.start();
  node.run(5);
  node.send("config", {
    revision: 1,
    limits: { residualPa: 1_000_000, lineLeastPa: 200_000, lineMostPa: 800_000 },
  });
  node.run(30);
  // One gas-on spell, so that the node knows the state.
  node.world.linePa = 320_000;
  node.run(10);
  node.world.linePa = 345_000;
  node.run(20);
  node.lampHistory = "";
  node.buzzerHistory = "";
});

afterEach(() => node.stop());

/** Seconds until the buzzer first sounded since `node.buzzerHistory` was emptied. */
function buzzedAfterS(): number {
  const turn = node.buzzerHistory.indexOf("1");
  return turn < 0 ? Number.POSITIVE_INFINITY : (turn + 1) / 4;
}

for (const network of ["with", "without"]) {
  describe(`${network} a network`, () => {
    beforeEach(() => {
      if (network === "without") node.cut();
    });

    test("an arc without gas is loud within 2 s, and stops with the arc", () => {
      node.world.arc = true;
      node.run(10);
      expect(buzzedAfterS()).toBeLessThanOrEqual(2);
      expect(node.lampHistory).toContain("1");
      node.world.arc = false;
      node.run(2);
      node.buzzerHistory = "";
      node.run(10);
      expect(node.buzzerHistory).not.toContain("1");
    });

    test("an arc without gas cannot be silenced", () => {
      node.world.button = true;
      node.world.arc = true;
      node.run(10);
      expect(buzzedAfterS()).toBeLessThanOrEqual(2);
    });

    test("an arc with gas is silent", () => {
      node.world.linePa = 320_000;
      node.run(1);
      node.world.arc = true;
      node.run(60);
      expect(node.buzzerHistory).not.toContain("1");
      expect(node.lampHistory).not.toContain("1");
    });

    test("a cylinder that runs dry in mid-weld: arc without gas", () => {
      node.world.linePa = 320_000;
      node.run(1);
      node.world.arc = true;
      node.run(20);
      expect(node.buzzerHistory).not.toContain("1");
      node.buzzerHistory = "";
      node.world.linePa = 0;
      node.run(3);
      expect(buzzedAfterS()).toBeLessThanOrEqual(2.5);
    });

    test("line pressure below its least while gas is on sounds within 5 s", () => {
      node.world.linePa = 180_000;
      node.world.arc = true;
      node.run(10);
      expect(buzzedAfterS()).toBeLessThanOrEqual(5);
      expect(buzzedAfterS()).toBeGreaterThan(2);
    });

    test("a cylinder near its residual pressure lights the lamp, and sounds at the end of the arc", () => {
      node.world.linePa = 320_000;
      node.run(1);
      node.world.arc = true;
      node.run(1);
      node.world.cylinderPa = 1_050_000;
      node.run(60);
      expect(node.lampHistory).toContain("1");
      expect(node.buzzerHistory).not.toContain("1");
      node.world.arc = false;
      node.run(5);
      expect(node.buzzerHistory).toContain("1");
      node.buzzerHistory = "";
      node.run(300);
      expect(node.buzzerHistory).not.toContain("1");
    });

    test("line pressure near its limit and a sensor fault each light the lamp", () => {
      node.world.linePa = 790_000;
      node.run(30);
      expect(node.lampHistory).toContain("1");
      node.world.linePa = 345_000;
      node.run(60);
      node.lampHistory = "";
      node.run(30);
      expect(node.lampHistory).not.toContain("1");
      node.world.raw[2] = [0, 0, 0, 0, 0];
      node.run(30);
      expect(node.lampHistory).toContain("1");
    });
  });
}

test("a node that has not yet seen gas go on or off raises no arc without gas on a steady line", async () => {
  node.stop();
  node = new TestNode(quietWorld());
  await node.start();
  node.run(20);
  node.world.arc = true;
  node.run(60);
  expect(node.buzzerHistory).not.toContain("1");
  // But an empty line is certain.
  node.world.linePa = 0;
  node.run(3);
  expect(node.buzzerHistory).toContain("1");
});

describe("a gateway that is not heard", () => {
  const doubleBlink = /10100{26,}/;

  test("for five minutes: the lamp blinks twice every eight seconds, the buzzer never", () => {
    node.world.gatewayUp = false;
    node.run(290);
    expect(node.lampHistory).not.toContain("1");
    node.run(60);
    expect(node.lampHistory).toMatch(doubleBlink);
    node.run(900);
    expect(node.buzzerHistory).not.toContain("1");
    node.sendTime(1_764_060_000);
    node.run(2);
    node.lampHistory = "";
    node.run(60);
    expect(node.lampHistory).not.toContain("1");
  });

  test("gives way to every warning, and silences none", () => {
    node.cut();
    node.run(400);
    node.lampHistory = "";
    node.buzzerHistory = "";
    node.world.arc = true;
    node.run(10);
    expect(buzzedAfterS()).toBeLessThanOrEqual(2);
    expect(node.lampHistory).toContain("101010");
    node.world.arc = false;
    node.run(10);
    node.world.cylinderPa = 1_050_000;
    node.buzzerHistory = "";
    node.run(30);
    expect(node.buzzerHistory).toContain("1");
  });
});

test("each warning has a lamp and a buzzer pattern of its own", async () => {
  const seen: string[] = [];
  const cases: ((world: TestNode["world"]) => void)[] = [
    (world) => {
      world.arc = true;
    },
    (world) => {
      world.linePa = 180_000;
    },
    (world) => {
      world.linePa = 790_000;
    },
    (world) => {
      world.cylinderPa = 1_050_000;
    },
    (world) => {
      world.raw[2] = [0, 0, 0, 0, 0];
    },
  ];
  for (const [index, change] of cases.entries()) {
    Object.assign(node.world, { arc: false, linePa: 345_000, cylinderPa: 18_000_000, raw: {} });
    node.run(60);
    change(node.world);
    node.run(12);
    node.lampHistory = "";
    node.run(16);
    // Two sensor faults look alike; each condition's lamp repeats within four seconds.
    const rhythm = (node.lampHistory.match(/10*/g) ?? []).map((blink) => blink.length).join(",");
    expect(rhythm, `case ${index}`).not.toBe("");
    seen.push(
      node.lampHistory.slice(node.lampHistory.indexOf("1"), node.lampHistory.indexOf("1") + 32),
    );
  }
  expect(new Set(seen).size).toBe(cases.length);
});
