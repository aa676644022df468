import { describe, expect, it } from "vitest";
import { stationHistory } from "../../../gateway/live/history.ts";
import { toRfc3339 } from "../../../gateway/live/station-service.ts";
import {
  eventually,
  examplePack,
  exampleStation,
  HandClock,
  samplesTopic,
  startTestGateway,
  statusTopic,
  type TestGateway,
  t0,
  temporaryFolder,
} from "../support.ts";

async function historyTimes(running: TestGateway, id: string, from: number, to: number) {
  const { gateway, store } = running;
  const station = gateway.directory.station(id);
  if (!station) throw new Error(`no ${id}`);
  const request = { from, to, points: to - from, nowS: to, rawDays: 14, minuteDays: 400 };
  const { series } = await stationHistory(store, gateway.directory, station, request);
  const line = series["line-pressure"];
  return line?.t.filter((_, index) => line.mean[index] !== null) ?? [];
}

async function save(running: TestGateway, change: Record<string, unknown>, version: number | null) {
  const saved = await running.gateway.service.save(exampleStation(change), version);
  if (!saved.ok) throw new Error(JSON.stringify(saved));
}

describe("bindings", () => {
  it("bring samples to the station that had the node at their time, late ones too", async () => {
    const clock = new HandClock();
    const running = await startTestGateway({ clock });
    const { link } = running;
    await save(running, {}, null);
    clock.goTo(t0 + 10);
    await link.send(samplesTopic, examplePack({ endS: t0 + 10, seq: 1 }));
    clock.goTo(t0 + 100);
    await save(running, { node: null }, 1);
    await save(running, { station: "bay-4" }, null);
    clock.goTo(t0 + 110);
    await link.send(samplesTopic, examplePack({ endS: t0 + 110, seq: 3 }));
    // From before the move, late.
    await link.send(samplesTopic, examplePack({ endS: t0 + 20, seq: 2 }));
    const bay3 = await historyTimes(running, "north.bay-3", t0, t0 + 120);
    const bay4 = await historyTimes(running, "north.bay-4", t0, t0 + 120);
    expect(bay3).toEqual([t0 + 9, t0 + 10, t0 + 19, t0 + 20]);
    expect(bay4).toEqual([t0 + 109, t0 + 110]);
  });

  it("an estimate from before a restart is listed as old, not as gas that flows", async () => {
    const folder = temporaryFolder();
    const first = await startTestGateway({ folder });
    await save(first, {}, null);
    for (let seq = 1; seq <= 20; seq++) {
      first.clock.goTo(t0 + 2 * seq);
      await first.link.send(samplesTopic, examplePack({ endS: t0 + 2 * seq, seq }));
    }
    const view = ({ gateway }: TestGateway) =>
      gateway.service.view(gateway.directory.station("north.bay-3")!);
    const before = view(first);
    expect(before.estimate?.mode).toBe("flowing");
    expect(before).toMatchObject({ old: false });
    expect(before.ageS).toBeLessThan(5);
    await first.stop();
    const clock = new HandClock(t0 + 3640);
    const second = await startTestGateway({ folder, clock });
    const after = view(second);
    expect(after.estimate?.t).toBe(before.estimate?.t);
    expect(after).toMatchObject({ old: true });
    expect(after.ageS).toBeGreaterThan(3590);
    await second.link.send(samplesTopic, examplePack({ endS: t0 + 3640, seq: 1, boot: 2 }));
    await eventually(() => !view(second).old, "the first new pack is not old");
  });

  it("survive a restart", async () => {
    const folder = temporaryFolder();
    const clock = new HandClock();
    const first = await startTestGateway({ folder, clock });
    await save(first, {}, null);
    clock.goTo(t0 + 50);
    await save(first, { node: "n-08" }, 1);
    await first.stop();
    const second = await startTestGateway({ folder, clock });
    const { directory } = second.gateway;
    expect(directory.station("north.bay-3")?.version).toBe(2);
    expect(directory.ownerOf("north", "n-07", t0 + 10)).toBe("station:bay-3");
    expect(directory.ownerOf("north", "n-07", t0 + 60)).toBeNull();
    expect(directory.ownerOf("north", "n-08", t0 + 60)).toBe("station:bay-3");
  });

  it("give a claimed node's past to the engine", async () => {
    const clock = new HandClock();
    const running = await startTestGateway({ clock });
    for (let seq = 1; seq <= 60; seq++) {
      clock.goTo(t0 + 2 * seq);
      await running.link.send(samplesTopic, examplePack({ endS: t0 + 2 * seq, seq }));
    }
    expect(running.gateway.service.unclaimed().map((node) => node.node)).toEqual(["n-07"]);
    await save(running, {}, null);
    await eventually(() => running.gateway.live.catchingUp === 0, "the past is read");
    const estimate = running.gateway.sink.latest("north.bay-3");
    expect(estimate?.t).toBeGreaterThanOrEqual(t0 + 119);
    expect(running.gateway.service.unclaimed()).toEqual([]);
    // Replaced by another, it is free again and no new one: it is told where it stood, and until when.
    clock.goTo(t0 + 130);
    await save(running, { node: "n-08" }, 1);
    expect(running.gateway.service.unclaimed()).toMatchObject([
      { node: "n-07", stood: { owner: "station:bay-3", until: toRfc3339(t0 + 130) } },
    ]);
    await running.gateway.sink.flush();
    const journal = await running.store.journal({ from: 0, to: t0 + 200, limit: 50 });
    expect(journal.map((entry) => entry.kind)).toContain("description");
  });
});

describe("nodes without a clock", () => {
  const relative = (uptime: number, seq: number) => [
    { bn: "north/n-07:", n: "boot", v: 4 },
    { n: "seq", v: seq },
    { n: "uptime", v: uptime },
    { n: "line-pressure", u: "Pa", t: -1, v: 1000 + seq },
    { n: "line-pressure", u: "Pa", t: 0, v: 2000 + seq },
  ];

  it("have their samples placed exactly, over a crash of the gateway too", async () => {
    const folder = temporaryFolder();
    const clock = new HandClock(t0 + 100);
    const first = await startTestGateway({ folder, clock });
    await save(first, {}, null);
    await first.link.send(samplesTopic, relative(10, 1));
    await first.crash();
    clock.goTo(t0 + 120);
    const second = await startTestGateway({ folder, clock });
    await second.link.send(samplesTopic, relative(30, 2));
    expect(await historyTimes(second, "north.bay-3", t0, t0 + 120)).toEqual([]);
    // The boot began at t0.
    const [boot, seq, uptime, ...rows] = relative(60, 3);
    await second.link.send(samplesTopic, [{ ...boot, bt: t0 + 60 }, seq, uptime, ...rows]);
    expect(await historyTimes(second, "north.bay-3", t0, t0 + 120)).toEqual(
      [9, 10, 29, 30, 59, 60].map((dt) => t0 + dt),
    );
  });

  it("are stamped by receipt when no time comes", async () => {
    const clock = new HandClock(t0 + 100);
    const running = await startTestGateway({ clock });
    await save(running, {}, null);
    await running.link.send(samplesTopic, relative(10, 1));
    clock.goTo(t0 + 100 + 179);
    await running.gateway.ingest.tick();
    expect(await historyTimes(running, "north.bay-3", t0, t0 + 300)).toEqual([]);
    clock.goTo(t0 + 100 + 181);
    await running.gateway.ingest.tick();
    expect(await historyTimes(running, "north.bay-3", t0, t0 + 300)).toEqual([t0 + 99, t0 + 100]);
  });
});

describe("time that passes", () => {
  it("makes a silent station silent, once", async () => {
    const clock = new HandClock();
    const running = await startTestGateway({ clock });
    await save(running, {}, null);
    await running.link.send(statusTopic, { state: "online", boot: 1 });
    for (let seq = 1; seq <= 30; seq++) {
      clock.goTo(t0 + 2 * seq);
      await running.link.send(samplesTopic, examplePack({ endS: t0 + 2 * seq, seq }));
    }
    expect(running.gateway.sink.latest("north.bay-3")?.mode).not.toBe("silent");
    clock.goTo(t0 + 3600);
    await running.gateway.ingest.tick();
    expect(running.gateway.sink.latest("north.bay-3")?.mode).toBe("silent");
    const lines = running.gateway.live.counts.lines;
    clock.goTo(t0 + 7200);
    await running.gateway.ingest.tick();
    expect(running.gateway.live.counts.lines).toBe(lines);
  });
});

describe("an engine that fails", () => {
  it("does not take the others, nor the stream, with it", async () => {
    const { realEngines } = await import("../support.ts");
    const running = await startTestGateway({
      factory: {
        ...realEngines,
        create: (setup, options) => {
          const engine = realEngines.create(setup, options);
          if (setup.stations[0]?.station !== "bay-3") return engine;
          return {
            receive: () => {
              throw new Error("broken on purpose");
            },
            advance: () => [],
            serialise: () => engine.serialise(),
          };
        },
      },
    });
    await save(running, {}, null);
    await save(running, { station: "bay-4", node: "n-08" }, null);
    for (let seq = 1; seq <= 5; seq++) {
      running.clock.goTo(t0 + 2 * seq + 0.5);
      for (const node of ["n-07", "n-08"]) {
        const pack = examplePack({ endS: t0 + 2 * seq, seq, node });
        await running.link.send(`leeward/v1/north/${node}/samples`, pack);
      }
    }
    expect(running.gateway.live.counts.engineErrors).toBe(5);
    expect(running.gateway.sink.latest("north.bay-4")?.t).toBe(t0 + 10);
    expect(running.gateway.sink.latest("north.bay-3")).toBeNull();
  });
});
