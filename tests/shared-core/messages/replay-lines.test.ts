import { stationSchema } from "@leeward/shared-core/documents/station.ts";
import { ReplayReader } from "@leeward/shared-core/messages/replay-lines.ts";
import { describe, expect, it } from "vitest";

const t0 = 1764057600;
const station = stationSchema.parse({
  schema: 1,
  station: "bay-3",
  site: "north",
  node: "n-07",
  cylinder: { gas: "I1-Ar", composition: { Ar: 1 }, waterVolumeL: 50, filledBar: 200, filledC: 15 },
});
const setup = { supply: null, stations: [station] };
const line = (t: number, extra: Record<string, unknown> = {}) => ({
  n: "line-pressure",
  u: "Pa",
  t,
  v: 1000,
  ...extra,
});

function kindOf(item: object): string {
  return ["status", "pack", "person", "setup"].find((kind) => kind in item) ?? "none";
}

describe("lines of a samples file", () => {
  it("takes a bare pack as received at its newest absolute time", () => {
    const read = new ReplayReader(setup).read(JSON.stringify([line(t0 - 5), line(t0)]));
    expect(read.ok && read.items.map((item) => item.received)).toEqual([t0]);
  });

  it("never lets the time of receipt fall", () => {
    const reader = new ReplayReader(setup);
    reader.read(JSON.stringify([line(t0)]));
    const read = reader.read(JSON.stringify([line(t0 - 60)]));
    expect(read.ok && read.items[0]?.received).toBe(t0);
  });

  it("reads wrapped packs, statuses, entries and set-ups in order", () => {
    const reader = new ReplayReader(setup);
    const lines = [
      {
        received: t0,
        topic: "leeward/v1/north/n-07/status",
        payload: { state: "online", boot: 2 },
      },
      { received: t0 + 1, topic: "leeward/v1/north/n-07/samples", payload: [line(t0)] },
      { received: t0 + 2, person: { reading: 8 } },
      { received: t0 + 3, person: { swap: {} } },
      { received: t0 + 4, setup: { supply: null, stations: [{ ...station, name: "Bay" }] } },
      { received: t0 + 5, topic: "leeward/v1/north/n-07/reply", payload: { id: "a", ok: true } },
    ];
    const items = lines.flatMap((one) => {
      const read = reader.read(JSON.stringify(one));
      if (!read.ok) throw new Error(read.fault.message);
      return read.items;
    });
    expect(items.map((item) => kindOf(item))).toEqual([
      "status",
      "pack",
      "person",
      "person",
      "setup",
    ]);
    expect(items.map((item) => item.received)).toEqual([t0, t0 + 1, t0 + 2, t0 + 3, t0 + 4]);
  });

  it("reads a repeat once, and other content under the same number again", () => {
    const reader = new ReplayReader(setup);
    const pack = (v: number) =>
      JSON.stringify([{ n: "boot", v: 1, bt: t0 }, { n: "seq", v: 5 }, line(0, { v })]);
    const count = (text: string) => {
      const read = reader.read(text);
      return read.ok ? read.items.length : -1;
    };
    expect([count(pack(1)), count(pack(1)), count(pack(2)), count(pack(1))]).toEqual([1, 0, 1, 0]);
  });

  it("gives out what was held at the end", () => {
    const reader = new ReplayReader(setup);
    const read = reader.read(
      JSON.stringify({
        received: t0,
        topic: "leeward/v1/north/n-07/samples",
        payload: [{ n: "boot", v: 1 }, { n: "uptime", v: 30 }, line(-2)],
      }),
    );
    expect(read).toEqual({ ok: true, items: [] });
    expect(reader.end()).toHaveLength(1);
  });

  it.each([
    ["no JSON", "{", "not-json"],
    ["neither pack nor wrapper", '{"a":1}', "not-senml"],
    ["a number", "4", "not-senml"],
    ["an unknown record", JSON.stringify([{ n: "pressure", v: 1 }]), "unknown-record"],
    ["relative times alone", JSON.stringify([line(-3)]), "impossible-time"],
    [
      "another node's pack",
      JSON.stringify([{ bn: "north/n-99:", ...line(t0) }]),
      "base-name-contradicts-topic",
    ],
    ["an empty entry", JSON.stringify({ received: t0, person: {} }), "bad-person"],
    [
      "a broken set-up",
      JSON.stringify({ received: t0, setup: { supply: null, stations: [] } }),
      "not-senml",
    ],
    [
      "a time from the future",
      JSON.stringify({
        received: t0,
        topic: "leeward/v1/north/n-07/samples",
        payload: [line(t0 + 9000)],
      }),
      "impossible-time",
    ],
    [
      "another topic",
      JSON.stringify({ received: t0, topic: "weather", payload: [line(t0)] }),
      "unknown-topic",
    ],
    [
      "a broken status",
      JSON.stringify({ received: t0, topic: "leeward/v1/north/n-07/status", payload: {} }),
      "bad-status",
    ],
  ])("reports %s and goes on", (_name, text, reason) => {
    const reader = new ReplayReader(setup);
    const bad = reader.read(text);
    expect(!bad.ok && bad.fault.reason).toBe(reason);
    expect(reader.read(JSON.stringify([line(t0)])).ok).toBe(true);
  });

  it("wants to know which drop's node or station is meant", () => {
    const other = { ...station, station: "bay-4", node: "n-08" };
    const reader = new ReplayReader({ supply: null, stations: [station, other] });
    expect(reader.read(JSON.stringify([line(t0)])).ok).toBe(false);
    expect(reader.read(JSON.stringify([{ bn: "north/n-08:", ...line(t0) }])).ok).toBe(true);
    expect(reader.read(JSON.stringify({ received: t0, person: { reading: 8 } })).ok).toBe(false);
    expect(
      reader.read(JSON.stringify({ received: t0, station: "bay-4", person: { reading: 8 } })).ok,
    ).toBe(true);
  });
});
