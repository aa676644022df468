import { join } from "node:path";
import type { ActiveAlarm } from "@leeward/shared-core/estimation/estimate.ts";
import SqliteDriver from "better-sqlite3";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { quickFolder, t0 } from "../support.ts";
import { alarm, openLifeCycle } from "./alarm-bench.ts";

const file = () => join(quickFolder(), "store.sqlite");
const low = alarm("under-shielding");
const creep = alarm("regulator-creep", { priority: "medium" });

async function opened(path = file(), supplyOf?: (id: string) => string | null) {
  const bench = await openLifeCycle(path, supplyOf);
  /** One line at `t0 + at`, received at once or at `t0 + received`. */
  const line = (at: number, alarms: ActiveAlarm[], received = at, station = "slip-1") => {
    bench.lifeCycle.take("boatyard", station, { t: t0 + at, alarms }, t0 + received);
  };
  const states = () => bench.lifeCycle.list().map((one) => [one.condition, one.shown]);
  const kinds = async () => {
    await bench.lifeCycle.settled();
    const entries = await bench.store.alarms.journal({ from: 0, to: 4e9, limit: 1000 });
    return entries.reverse().map((entry) => entry.kind);
  };
  return { ...bench, line, states, kinds, path };
}

describe("states of IEC 62682", () => {
  test("unacknowledged, acknowledged, normal", async () => {
    const { line, states, lifeCycle, rings } = await opened();
    line(0, [low]);
    expect(states()).toEqual([["under-shielding", "unacknowledged"]]);
    const id = lifeCycle.list()[0]!.id;
    const result = await lifeCycle.acknowledge(id, "Ada", "changing it", t0 + 5);
    expect(result).toMatchObject({
      ok: true,
      occurrence: { state: "acknowledged", acknowledgedBy: "Ada", note: "changing it" },
    });
    line(10, [low]);
    expect(states()).toEqual([["under-shielding", "acknowledged"]]);
    line(11, []);
    expect(states()).toEqual([]);
    expect(rings).toHaveLength(1);
  });
  test("gone before anybody looked: returned, still unacknowledged, then normal", async () => {
    const { line, states, lifeCycle } = await opened();
    line(0, [low]);
    line(1, []);
    expect(states()).toEqual([["under-shielding", "returned-unacknowledged"]]);
    await lifeCycle.acknowledge(lifeCycle.list()[0]!.id, "Ada", "", t0 + 9);
    expect(states()).toEqual([]);
  });
  test("a low-priority alarm that goes by itself asks nothing of anybody", async () => {
    const { line, states } = await opened();
    line(0, [alarm("cylinder-low", { priority: "low" })]);
    line(1, []);
    expect(states()).toEqual([]);
  });
  test("comes back before it was acknowledged: the same occurrence, one ring", async () => {
    const { line, lifeCycle, rings, kinds } = await opened();
    line(0, [low]);
    const { id } = lifeCycle.list()[0]!;
    line(60, []);
    line(90, [{ ...low, since: t0 + 85 }]);
    expect(lifeCycle.list().map((one) => [one.id, one.shown])).toEqual([[id, "unacknowledged"]]);
    expect(rings).toHaveLength(1);
    line(120, []);
    line(1200, [{ ...low, since: t0 + 1190 }]);
    expect(rings).toHaveLength(2);
    expect(await kinds()).toContain("re-alarmed");
  });
  test("latched: stays until a person has looked", async () => {
    const { line, states, lifeCycle } = await opened();
    line(0, [creep]);
    line(1, []);
    expect(states()).toEqual([["regulator-creep", "latched-unacknowledged"]]);
    await lifeCycle.acknowledge(lifeCycle.list()[0]!.id, "Ada", "", t0 + 9);
    expect(states()).toEqual([]);
  });
  test("latched and acknowledged before it went: waits for its release", async () => {
    const { line, states, lifeCycle, kinds } = await opened();
    line(0, [creep]);
    const { id } = lifeCycle.list()[0]!;
    await lifeCycle.acknowledge(id, "Ada", "", t0 + 1);
    line(2, []);
    expect(states()).toEqual([["regulator-creep", "latched-acknowledged"]]);
    await lifeCycle.acknowledge(id, "Ben", "regulator changed", t0 + 9);
    expect(states()).toEqual([]);
    expect((await kinds()).at(-1)).toBe("released");
  });
  test("acknowledging twice, or what is not there, says so", async () => {
    const { line, lifeCycle } = await opened();
    line(0, [low]);
    const { id } = lifeCycle.list()[0]!;
    await lifeCycle.acknowledge(id, "Ada", "", t0 + 1);
    expect(await lifeCycle.acknowledge(id, "Ben", "", t0 + 2)).toMatchObject({
      ok: false,
      code: "nothing-to-do",
      message: expect.stringContaining("acknowledged by Ada"),
    });
    expect(await lifeCycle.acknowledge("gone", "Ben", "", t0 + 2)).toMatchObject({
      code: "not-found",
    });
  });
  test("more urgent than what was acknowledged: a person hears of it again", async () => {
    const { line, states, lifeCycle, rings } = await opened();
    line(0, [alarm("runs-out-soon", { priority: "medium" })]);
    await lifeCycle.acknowledge(lifeCycle.list()[0]!.id, "Ada", "", t0 + 1);
    line(2, [alarm("runs-out-soon", { priority: "high" })]);
    expect(states()).toEqual([["runs-out-soon", "unacknowledged"]]);
    expect(lifeCycle.list()[0]).toMatchObject({ acknowledged: null, acknowledgedBy: null });
    expect(rings).toHaveLength(2);
  });
});

describe("shelved, suppressed, out of service", () => {
  test("shelved for a time, comes back by itself and rings", async () => {
    const { line, states, lifeCycle, rings, kinds } = await opened();
    line(0, [low]);
    const { id } = lifeCycle.list()[0]!;
    await lifeCycle.shelve(id, { by: "Ada", note: "waiting", minutes: 30 }, t0 + 1);
    expect(states()).toEqual([["under-shielding", "shelved"]]);
    line(60, []);
    line(90, [{ ...low, since: t0 + 88 }]);
    expect(rings).toHaveLength(1);
    lifeCycle.tick(t0 + 1 + 1799);
    expect(states()).toEqual([["under-shielding", "shelved"]]);
    lifeCycle.tick(t0 + 1 + 1800);
    expect(states()).toEqual([["under-shielding", "unacknowledged"]]);
    expect(rings).toHaveLength(2);
    expect(await kinds()).toEqual(
      expect.arrayContaining(["raised", "rang", "shelved", "returned", "re-alarmed", "unshelved"]),
    );
  });
  test("limits: a shift, an hour where it is about safety", async () => {
    const { line, lifeCycle } = await opened();
    line(0, [low, alarm("leak")]);
    const of = (condition: string) =>
      lifeCycle.list().find((one) => one.condition === condition)!.id;
    const who = { by: "Ada", note: "" };
    expect(await lifeCycle.shelve(of("leak"), { ...who, minutes: 61 }, t0)).toMatchObject({
      code: "limit",
    });
    expect(
      await lifeCycle.shelve(of("under-shielding"), { ...who, minutes: 481 }, t0),
    ).toMatchObject({ code: "limit" });
    expect(await lifeCycle.shelve(of("leak"), { ...who, minutes: 60 }, t0)).toMatchObject({
      ok: true,
    });
  });
  test("unshelved by hand", async () => {
    const { line, states, lifeCycle } = await opened();
    line(0, [low]);
    const { id } = lifeCycle.list()[0]!;
    await lifeCycle.shelve(id, { by: "Ada", note: "", minutes: 30 }, t0);
    expect(await lifeCycle.unshelve(id, "Ben", t0 + 5)).toMatchObject({ ok: true });
    expect(states()).toEqual([["under-shielding", "unacknowledged"]]);
    expect(await lifeCycle.unshelve(id, "Ben", t0 + 6)).toMatchObject({ code: "nothing-to-do" });
  });
  test("out of service until a person ends it", async () => {
    const { line, states, lifeCycle, rings } = await opened();
    line(0, [low]);
    const { id } = lifeCycle.list()[0]!;
    await lifeCycle.takeOutOfService(id, { by: "Ada", note: "torch apart" }, t0);
    lifeCycle.tick(t0 + 864_000);
    expect(states()).toEqual([["under-shielding", "out-of-service"]]);
    line(864_001, [low]);
    expect(rings).toHaveLength(1);
  });
  test("put away without an alarm: shown, also after a restart, and rings for nobody until it is put back", async () => {
    const first = await opened();
    first.line(0, [alarm("leak"), low]);
    for (const { id } of first.lifeCycle.list()) {
      await first.lifeCycle.takeOutOfService(id, { by: "Ada", note: "apart" }, t0);
      await first.lifeCycle.acknowledge(id, "Ada", "", t0);
    }
    first.line(10, []);
    await first.lifeCycle.settled();
    await first.close();
    const { line, lifeCycle, rings } = await opened(first.path);
    expect(lifeCycle.list()).toEqual([]);
    const away = () => lifeCycle.putAway().map((one) => [one.station, one.condition, one.kind]);
    expect(away()).toEqual([
      ["slip-1", "leak", "out-of-service"],
      ["slip-1", "under-shielding", "out-of-service"],
    ]);
    // A month later it is still out of service: its alarm comes, says so, and rings for nobody.
    line(30 * 86_400, [low]);
    expect(lifeCycle.list().map((one) => one.shown)).toEqual(["out-of-service"]);
    expect(rings).toEqual([]);
    expect(away()).toEqual([["slip-1", "leak", "out-of-service"]]);
    const part = { site: "boatyard", station: "slip-1", condition: "leak" };
    expect(await lifeCycle.putBack(part, "Ben", t0 + 30 * 86_400)).toBe(true);
    expect(await lifeCycle.putBack(part, "Ben", t0 + 30 * 86_400)).toBe(false);
    expect(away()).toEqual([]);
    line(30 * 86_400 + 10, [low, alarm("leak")]);
    expect(rings.map((one) => one.condition)).toEqual(["leak"]);
  });
  test("a silent node suppresses by design, and it goes on as it was afterwards", async () => {
    const { line, states, lifeCycle, kinds } = await opened();
    line(0, [low]);
    await lifeCycle.acknowledge(lifeCycle.list()[0]!.id, "Ada", "", t0 + 1);
    line(10, [alarm("node-silent")]);
    expect(states()).toContainEqual(["under-shielding", "suppressed-by-design"]);
    line(20, [low]);
    expect(states()).toContainEqual(["under-shielding", "acknowledged"]);
    expect(await kinds()).toEqual(expect.arrayContaining(["suppressed", "unsuppressed"]));
  });
});

describe("late samples", () => {
  test("what has gone by the time they arrive is found afterwards and never rings", async () => {
    const { line, states, rings, kinds } = await opened();
    line(0, [low], 3600);
    line(60, [], 3600);
    expect(states()).toEqual([]);
    expect(rings).toEqual([]);
    expect(await kinds()).toEqual(["raised", "found-afterwards"]);
  });
  test("what still holds rings once the lines have caught up", async () => {
    const { line, rings } = await opened();
    for (let at = 0; at <= 3600; at += 60) line(at, [low], 3600);
    expect(rings).toHaveLength(1);
  });
});

describe("a supply that several stations draw from", () => {
  test("rings once", async () => {
    const { line, rings, lifeCycle } = await opened(file(), () => "ring-1");
    for (const station of ["slip-1", "slip-2", "slip-3"]) {
      line(0, [alarm("runs-out-soon"), low], 0, station);
    }
    expect(rings.filter((ring) => ring.condition === "runs-out-soon")).toHaveLength(1);
    expect(rings.filter((ring) => ring.condition === "under-shielding")).toHaveLength(3);
    expect(lifeCycle.list().filter((one) => one.condition === "runs-out-soon")).toHaveLength(3);
  });
  test("the ring goes on at a drop that stands when the one that rang goes; what was sent is not sent again", async () => {
    const { line, lifeCycle, store } = await opened(file(), () => "ring-1");
    const ends = alarm("runs-out-soon");
    line(0, [ends], 0, "slip-1");
    line(0, [ends], 0, "slip-2");
    await lifeCycle.settled();
    const rows = async () =>
      (await store.outbox.list({ limit: 10 }))
        .sort((a, b) => a.due - b.due)
        .map((one) => [one.occurrence?.includes("slip-2"), one.due - t0, one.state]);
    const first = (await store.outbox.due(t0, { toEach: 1, inAll: 1 }))[0]!;
    await store.outbox.begin(first.id, t0);
    await store.outbox.delivered(first.id, t0 + 1);
    line(60, [], 60, "slip-1");
    line(61, [ends], 61, "slip-2");
    await lifeCycle.settled();
    expect(await rows()).toEqual([
      [true, 0, "delivered"],
      [true, 300, "waiting"],
    ]);
    // Back at the first drop, gone at the second: the ring goes back, and is still one.
    line(70, [ends], 70, "slip-1");
    line(80, [], 80, "slip-2");
    line(81, [ends], 81, "slip-1");
    await lifeCycle.settled();
    expect(await rows()).toEqual([
      [false, 0, "delivered"],
      [false, 300, "waiting"],
    ]);
    // Whoever acknowledges it there takes back the rest.
    const standing = lifeCycle.list().find((one) => one.station === "slip-1")!;
    await lifeCycle.acknowledge(standing.id, "Ada", "", t0 + 90);
    expect((await rows())[1]).toEqual([false, 300, "cancelled"]);
  });
  test("a drop out of service says nothing of the others", async () => {
    const { line, lifeCycle, rings } = await opened(file(), () => "ring-1");
    const ends = alarm("runs-out-soon");
    line(0, [ends], 0, "slip-1");
    line(0, [ends], 0, "slip-2");
    const at = (station: string) => lifeCycle.list().find((one) => one.station === station)!.id;
    await lifeCycle.takeOutOfService(at("slip-1"), { by: "Ada", note: "apart" }, t0 + 5);
    line(10, [ends], 10, "slip-2");
    expect(rings.map((ring) => ring.station)).toEqual(["slip-1", "slip-2"]);
  });
});

describe("restarts", () => {
  test("survives exactly: every state, shelf and time", async () => {
    const first = await opened();
    first.line(0, [low, creep, alarm("leak"), alarm("over-flow", { priority: "low" })]);
    const id = (condition: string) =>
      first.lifeCycle.list().find((one) => one.condition === condition)!.id;
    await first.lifeCycle.acknowledge(id("under-shielding"), "Ada", "seen", t0 + 1);
    await first.lifeCycle.shelve(id("leak"), { by: "Ben", note: "n", minutes: 20 }, t0 + 2);
    first.line(3, [low, alarm("leak")]);
    await first.lifeCycle.settled();
    const before = first.lifeCycle.list();
    await first.close();
    const second = await opened(first.path);
    expect(second.lifeCycle.list()).toEqual(before);
    // The engine runs again over what it had seen: nothing happens twice.
    second.line(0, [low, creep, alarm("leak")]);
    second.line(3, [low, alarm("leak")]);
    expect(second.lifeCycle.list()).toEqual(before);
    expect(second.rings).toEqual([]);
    second.line(4, [low, alarm("leak")]);
    expect(second.rings).toEqual([]);
    second.lifeCycle.tick(t0 + 2 + 1200);
    expect(second.rings).toHaveLength(1);
  });
  test("stopped anywhere and started again it ends the same as if it had run through", async () => {
    const conditions = ["under-shielding", "regulator-creep", "cylinder-empty", "node-silent"];
    const step = fc.subarray(conditions);
    await fc.assert(
      fc.asyncProperty(
        fc.array(step, { minLength: 3, maxLength: 25 }),
        fc.nat(),
        async (plan, cut) => {
          const lines = plan.map((ids, i) => ({ at: i * 5, alarms: ids.map((id) => alarm(id)) }));
          const whole = await opened(":memory:");
          for (const { at, alarms } of lines) whole.line(at, alarms);
          await whole.lifeCycle.settled();
          const first = await opened();
          const stop = cut % lines.length;
          for (const { at, alarms } of lines.slice(0, stop)) first.line(at, alarms);
          await first.lifeCycle.settled();
          await first.close();
          const second = await opened(first.path);
          // It reads some lines again.
          for (const { at, alarms } of lines.slice(Math.max(0, stop - 3))) second.line(at, alarms);
          expect(second.lifeCycle.list()).toEqual(whole.lifeCycle.list());
          expect(await second.kinds()).toEqual(await whole.kinds());
          const messages = async ({ store }: typeof whole) =>
            (await store.outbox.list({ limit: 500 }))
              .map(({ id, state, due }) => `${id} ${state} ${due}`)
              .sort();
          expect(await messages(second)).toEqual(await messages(whole));
          await second.close();
          await whole.close();
        },
      ),
      { numRuns: 25 },
    );
  });
  test("a disk that refuses loses nothing", async () => {
    const bench = await opened();
    const blocker = new SqliteDriver(bench.path);
    blocker.exec("ALTER TABLE alarm_occurrences RENAME TO away");
    bench.line(0, [low]);
    await bench.lifeCycle.settled();
    expect(bench.errors).toHaveLength(1);
    blocker.exec("ALTER TABLE away RENAME TO alarm_occurrences");
    blocker.close();
    await bench.lifeCycle.settled();
    expect(await bench.store.alarms.openOccurrences()).toHaveLength(1);
    expect(await bench.kinds()).toEqual(["raised", "rang"]);
  });
});

describe("the journal", () => {
  test("is never edited: the store itself refuses", async () => {
    const { line, lifeCycle, path } = await opened();
    line(0, [low]);
    await lifeCycle.settled();
    const db = new SqliteDriver(path);
    expect(() => db.exec("UPDATE alarm_journal SET by = 'somebody'")).toThrow(/never edited/);
    expect(() => db.exec("DELETE FROM alarm_journal")).toThrow(/never edited/);
    db.close();
  });
  test("only the demo's made-up stations are forgotten, and whole", async () => {
    const { line, lifeCycle, store } = await opened();
    line(0, [low]);
    line(0, [low], 0, "real-1");
    await lifeCycle.forgetVirtual("boatyard", ["slip-1"]);
    const journal = await store.alarms.journal({ from: 0, to: 4e9, limit: 100 });
    expect(new Set(journal.map((entry) => entry.station))).toEqual(new Set(["real-1"]));
    expect(lifeCycle.list().map((one) => one.station)).toEqual(["real-1"]);
    expect((await store.outbox.list({ limit: 10 })).every((one) => one.id.includes("real-1"))).toBe(
      true,
    );
  });
});

describe("messages", () => {
  const states = async (bench: Awaited<ReturnType<typeof opened>>) => {
    await bench.lifeCycle.settled();
    const rows = await bench.store.outbox.list({ limit: 10 });
    return rows
      .filter((one) => one.message.condition !== "node-silent")
      .sort((a, b) => a.due - b.due)
      .map((one) => [one.due - t0, one.state]);
  };
  test.each([
    ["gone and back between two writes", false],
    ["gone, written, and back", true],
  ])("%s: what nobody had heard waits again, at its old time", async (_, written) => {
    const bench = await opened();
    bench.line(0, [low]);
    if (written) await bench.lifeCycle.settled();
    bench.line(60, []);
    if (written) {
      expect(await states(bench)).toEqual([
        [0, "cancelled"],
        [300, "cancelled"],
      ]);
    }
    bench.line(90, [low]);
    expect(await states(bench)).toEqual([
      [0, "waiting"],
      [300, "waiting"],
    ]);
    expect(bench.rings).toHaveLength(1);
  });
  test("explained for a while by a silent node, then on its own again", async () => {
    const bench = await opened();
    bench.line(0, [low]);
    bench.line(10, [alarm("node-silent")]);
    await bench.lifeCycle.settled();
    // However long after: it has stood all the while.
    bench.line(4000, [low]);
    expect(await states(bench)).toEqual([
      [0, "waiting"],
      [300, "waiting"],
    ]);
    expect(bench.rings.filter((ring) => ring.condition === low.condition)).toHaveLength(1);
  });
  test("what a person took back stays so when the alarm flickers", async () => {
    const bench = await opened();
    bench.line(0, [creep]);
    const { id } = bench.lifeCycle.list()[0]!;
    await bench.lifeCycle.shelve(id, { by: "Ada", note: "", minutes: 30 }, t0 + 5);
    bench.line(60, []);
    bench.line(90, [creep]);
    expect(await states(bench)).toEqual([
      [0, "cancelled"],
      [300, "cancelled"],
    ]);
  });
  test("latched, looked at, and back: whoever looked took it for gone, so it rings", async () => {
    const bench = await opened();
    bench.line(0, [creep]);
    const { id } = bench.lifeCycle.list()[0]!;
    await bench.lifeCycle.acknowledge(id, "Ada", "", t0 + 1);
    bench.line(2, []);
    bench.line(60, [creep]);
    expect(bench.rings).toHaveLength(2);
  });
  test("a low alarm that comes and goes rings once in a quarter of an hour, over a restart too", async () => {
    const flow = alarm("over-flow", { priority: "low" });
    const first = await opened();
    first.line(0, [flow]);
    first.line(10, []);
    first.line(20, [flow]);
    first.line(30, []);
    expect(first.lifeCycle.list()).toEqual([]);
    await first.lifeCycle.settled();
    await first.close();
    const second = await opened(first.path);
    second.line(40, [flow]);
    second.line(50, []);
    expect(await second.kinds()).toEqual([
      "raised",
      "rang",
      "returned",
      "re-alarmed",
      "returned",
      "re-alarmed",
      "returned",
    ]);
    second.line(1000, [flow]);
    expect((await second.kinds()).slice(-2)).toEqual(["raised", "rang"]);
  });
  test("are stored with their alarm; the later steps are taken back when somebody acknowledges", async () => {
    const { line, lifeCycle, store } = await opened();
    line(0, [low]);
    await lifeCycle.settled();
    const waiting = await store.outbox.list({ limit: 10 });
    expect(waiting.map((one) => one.state)).toEqual(["waiting", "waiting"]);
    const now = waiting.find((one) => one.due === t0)!;
    await store.outbox.begin(now.id, t0);
    await store.outbox.delivered(now.id, t0 + 1);
    await lifeCycle.acknowledge(lifeCycle.list()[0]!.id, "Ada", "", t0 + 5);
    const after = await store.outbox.list({ limit: 10 });
    expect(after.map((one) => one.state).sort()).toEqual(["cancelled", "delivered"]);
    expect(after.find((one) => one.state === "cancelled")?.lastError).toBe("acknowledged by Ada");
  });
});
