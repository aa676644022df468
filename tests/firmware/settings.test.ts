import { afterEach, beforeEach, describe, expect, test } from "vitest";
import type { Occurrence } from "../../gateway/alarms/states.ts";
import { NodeChannel } from "../../gateway/notify/channels/broker.ts";
import type { OutboxRow } from "../../gateway/notify/outbox.ts";
import { row } from "../gateway/alarms/alarm-bench.ts";
import { quietWorld, TestNode } from "./host.ts";

let node: TestNode;

beforeEach(async () => {
  node = new TestNode(quietWorld());
  await node.start();
  node.run(30);
});

afterEach(() => node.stop());

function status(): Record<string, unknown> {
  return node.payloads("status").at(-1) ?? {};
}

describe("config", () => {
  test("is answered with its revision and kept through a reset", async () => {
    node.send("config", { revision: 4, pace: { idleS: 5 } });
    expect(status().config).toBe(4);
    expect(status().configError).toBeUndefined();
    node.run(60);
    await node.start("watchdog");
    node.run(3);
    expect(status().config).toBe(4);
  });

  const bad: [string, string | object, string][] = [
    ["garbage", "\u0000\u00ff{{{", "not JSON"],
    ["a cut-off message", '{"revision":5,"pace":{"idle', "not JSON"],
    ["no revision", { pace: { idleS: 5 } }, "revision is missing"],
    ["a pace of zero", { revision: 5, pace: { idleS: 0 } }, "pace.idleS must lie between"],
    ["text for a number", { revision: 5, pace: { idleS: "5" } }, "pace.idleS is not a number"],
    ["a list for an object", { revision: 5, limits: 7 }, "limits must be an object"],
    [
      "limits that contradict each other",
      { revision: 5, limits: { lineLeastPa: 500_000, lineMostPa: 400_000 } },
      "limits.lineMostPa must be greater",
    ],
    [
      "a calibration over too little of the range",
      {
        revision: 5,
        calibration: { line: { lowReadsPa: 0, lowIsPa: 0, highReadsPa: 1000, highIsPa: 1000 } },
      },
      "calibration.line.highIsPa is too close",
    ],
    ["nesting without end", `{"revision":5,"a":${"[".repeat(40)}${"]".repeat(40)}}`, "too deep"],
    ["5 kB of blanks", " ".repeat(5000), "longer than 4096"],
  ];
  for (const [name, message, why] of bad) {
    test(`${name} is refused as a whole, with the reason`, () => {
      node.send("config", { revision: 4, pace: { idleS: 5 } });
      node.run(60);
      node.send("config", message);
      expect(status().config).toBe(4);
      expect(status().configError).toContain(why);
      node.run(60);
      const times = (node.packs.at(-1) ?? [])
        .filter((record) => record.n === "cylinder-pressure")
        .map((record) => record.t ?? 0);
      expect((times[1] ?? 0) - (times[0] ?? 0)).toBe(5);
    });
  }

  test("two-point calibration: what read 1.2 and 801 kPa is 0 and 800 kPa", () => {
    node.world.noisePa = 0;
    node.send("config", {
      revision: 6,
      calibration: {
        line: { lowReadsPa: 1200, lowIsPa: 0, highReadsPa: 801_000, highIsPa: 800_000 },
      },
    });
    const expected = ((345_000 - 1200) * 800_000) / (801_000 - 1200);
    node.run(130);
    const line = node.packs.at(-1)?.find((record) => record.n === "line-pressure")?.v ?? 0;
    expect(Math.abs(line - expected)).toBeLessThan(50);
  });

  test("one that cuts the node off is taken back after two minutes, and refused from then on", () => {
    node.send("config", { revision: 7, pace: { idleS: 5 } });
    node.run(5);
    node.cut();
    node.run(130);
    node.world.brokerUp = true;
    node.run(120);
    expect(status().config).toBe(0);
    expect(status().configError).toContain("revision 7 cut the node off");
    node.send("config", { revision: 7, pace: { idleS: 5 } });
    expect(status().config).toBe(0);
    node.send("config", { revision: 8, pace: { idleS: 5 } });
    expect(status().config).toBe(8);
    expect(status().configError).toBeUndefined();
  });

  test("one that resets the node twice is refused; one reset may be chance", async () => {
    const offer = (): void => node.send("config", { revision: 9, pace: { idleS: 5 } });
    offer();
    await node.start("watchdog");
    node.run(3);
    expect(status().config).toBe(0);
    offer();
    expect(status().config).toBe(9);
    await node.start("watchdog");
    node.run(3);
    offer();
    expect(status().config).toBe(0);
    expect(status().configError).toContain("revision 9");
  });
});

describe("commands", () => {
  const soon = 1_764_057_600 + 3600;

  function reply(): Record<string, unknown> {
    return node.payloads("reply").at(-1) ?? {};
  }

  test("identify flashes the lamp and is answered", () => {
    node.send("command", { id: "a1", do: "identify", expires: soon });
    expect(reply()).toEqual({ id: "a1", ok: true });
    node.lampHistory = "";
    node.run(4);
    expect(node.lampHistory).toMatch(/1110|1101|1011|0111/);
  });

  test("signal drives lamp and buzzer for its seconds", () => {
    node.buzzerHistory = "";
    node.send("command", {
      id: "a2",
      do: "signal",
      buzzer: true,
      lamp: true,
      seconds: 3,
      expires: soon,
    });
    node.run(10);
    expect(node.buzzerHistory.replaceAll("0", "")).toHaveLength(12);
  });

  test("what the gateway sends for an alarm lights the lamp and sounds the buzzer, and is answered", async () => {
    const sent: { topic: string; payload: string }[] = [];
    const channel = new NodeChannel(
      (topic, payload) => {
        sent.push({ topic, payload });
        return Promise.resolve();
      },
      () => 1_764_057_700,
    );
    const way = { kind: "node" as const, lamp: true, buzzer: true, seconds: 30 };
    const occurrence = { id: "north.bay-3~leak~1", site: "north", station: "bay-3" };
    const planned = row({ ...occurrence, title: "Gas leaks" } as Occurrence, 1_764_057_700);
    const message = { ...planned.message, node: "n-07" };
    await channel.send({ ...planned, way, message } as OutboxRow, false, 1000);
    expect(sent[0]?.topic).toBe("leeward/v1/north/n-07/command");
    node.lampHistory = "";
    node.buzzerHistory = "";
    node.send("command", sent[0]!.payload);
    expect(reply()).toEqual({ id: JSON.parse(sent[0]!.payload).id, ok: true });
    node.run(40);
    // Four turns a second for its 30 s, then quiet.
    expect(node.lampHistory.replaceAll("0", "")).toHaveLength(120);
    expect(node.buzzerHistory.replaceAll("0", "")).toHaveLength(120);
    expect(node.lampHistory).toMatch(/0{20}$/);
  });

  test("signal takes words as well, and refuses to do nothing", () => {
    node.lampHistory = "";
    node.send("command", { id: "s1", do: "signal", lamp: "on", seconds: 2, expires: soon });
    node.run(5);
    expect(node.lampHistory.replaceAll("0", "")).toHaveLength(8);
    node.send("command", { id: "s2", do: "signal", lamp: "off", seconds: 2, expires: soon });
    expect(reply().ok).toBe(false);
  });

  test("a repeated command is done once", () => {
    const message = { id: "a3", do: "signal", buzzer: true, seconds: 2, expires: soon };
    node.send("command", message);
    node.run(5);
    node.buzzerHistory = "";
    node.send("command", message);
    node.run(5);
    expect(node.buzzerHistory).not.toContain("1");
  });

  test("a late command is dropped, and says so; without a clock none can be judged", async () => {
    node.send("command", { id: "a4", do: "restart", expires: 1_764_057_601 });
    expect(reply()).toEqual({ id: "a4", ok: false, why: "expired" });
    node.run(10);
    expect(node.restarts).toEqual([]);
    node.stop();
    const world = quietWorld();
    world.unixS = 0;
    node = new TestNode(world);
    await node.start();
    node.run(3);
    node.send("command", { id: "a5", do: "restart", expires: soon });
    expect(reply().ok).toBe(false);
    expect(reply().why).toContain("no clock");
  });

  test("send-now closes the pack at once", () => {
    node.run(30);
    const before = node.packs.length;
    node.send("command", { id: "a6", do: "send-now", expires: soon });
    node.run(0.25);
    expect(node.packs.length).toBe(before + 1);
  });

  test("restart happens after the answer, and nothing that waits is lost", async () => {
    node.world.gatewayUp = false;
    node.run(120);
    node.send("command", { id: "a7", do: "restart", expires: soon });
    node.run(5);
    expect(reply()).toEqual({ id: "a7", ok: true });
    expect(node.restarts).toEqual([false]);
    const sent = new Set(node.packs.map((pack) => JSON.stringify(pack)));
    node.world.gatewayUp = true;
    const before = node.packs.length;
    await node.start("software");
    node.run(5);
    const again = new Set(node.packs.slice(before).map((pack) => JSON.stringify(pack)));
    const kept = [...sent].filter((pack) => again.has(pack));
    expect(kept.length).toBeGreaterThanOrEqual(2);
  });

  test("update: fetched with its length and HMAC; a bad one is refused, a good one restarts", () => {
    const hmac = "ab".repeat(32);
    const url = "http://192.0.2.1/node.lua";
    const message = { do: "update", url, bytes: 83_000, hmac, expires: soon };
    node.send("command", { ...message, id: "u1", hmac: "zz" });
    expect(reply().ok).toBe(false);
    node.send("command", { ...message, id: "u2" });
    expect(node.fetches).toEqual([{ url, bytes: 83_000, hmac }]);
    node.updateReady("the HMAC differs");
    expect(reply()).toEqual({ id: "u2", ok: false, why: "the HMAC differs" });
    node.run(10);
    expect(node.restarts).toEqual([]);
    node.send("command", { ...message, id: "u3" });
    node.updateReady("");
    expect(reply()).toEqual({ id: "u3", ok: true });
    node.run(10);
    expect(node.restarts).toEqual([true]);
  });

  test("what is no command is ignored; an unknown one is answered", () => {
    const before = node.payloads("reply").length;
    for (const text of [
      "",
      "null",
      "[]",
      '{"do":"restart"}',
      '{"id":7}',
      '{"id":""}',
      "{".repeat(900),
    ]) {
      node.send("command", text);
    }
    expect(node.payloads("reply")).toHaveLength(before);
    node.send("command", { id: 'x"y\\', do: "dance", expires: soon });
    expect(reply()).toEqual({ id: 'x"y\\', ok: false, why: "unknown command" });
  });
});
