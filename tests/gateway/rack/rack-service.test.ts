import type { CylinderRecord } from "@leeward/shared-core/api/rack.ts";
import { type StationDocument, supplySchema } from "@leeward/shared-core/documents/station.ts";
import { describe, expect, test } from "vitest";
import { RackService } from "../../../gateway/rack/rack-service.ts";
import { examplePack, exampleStation, samplesTopic, startTestGateway, t0 } from "../support.ts";

const record: CylinderRecord = {
  serial: "BY-1",
  lot: "L-7",
  gas: "I1-Ar",
  composition: { Ar: 1 },
  waterVolumeL: 40,
  filledBar: 150,
  filledC: 15,
  supplier: "",
};

async function openRack() {
  const { gateway, store, clock, link } = await startTestGateway();
  await gateway.service.save(exampleStation(), null);
  const rack = new RackService({
    rack: store.rack,
    store,
    clock,
    stations: () => gateway.directory.stations(),
    supply: (id) => gateway.directory.supply(id),
    service: gateway.service,
  });
  const station = () => gateway.directory.station("north.bay-3")!;
  return { gateway, store, clock, link, rack, station };
}

describe("the Rack", () => {
  test("a cylinder arrives, is fitted with its snapshot, and is taken back", async () => {
    const { rack, station, store, clock } = await openRack();
    const described = station().document.cylinder;
    expect(await rack.put("north", "c-1", record, 0)).toEqual({ ok: true });
    expect(await rack.fit("c-1", station(), "Ada")).toEqual({ ok: true });
    // The Rack is the source: the description carries what hangs there now.
    expect(station().document.cylinder).toMatchObject({
      waterVolumeL: 40,
      filledBar: 150,
      lot: "L-7",
    });
    let view = await rack.view("north");
    expect(view.cylinders).toMatchObject([{ id: "c-1", place: "fitted", station: "north.bay-3" }]);
    expect(view.moves[0]).toMatchObject({ kind: "fitted", by: "Ada", serial: "BY-1" });
    expect(view.undoable).toMatchObject([{ station: "north.bay-3" }]);
    expect((await rack.fit("c-1", station(), "Ada")).ok).toBe(false);

    clock.goTo(t0 + 600);
    expect(await rack.undo(station(), "Ben")).toEqual({ ok: true });
    expect(station().document.cylinder).toEqual(described);
    view = await rack.view("north");
    expect(view.cylinders).toMatchObject([{ place: "store", station: null }]);
    expect(view.moves.map(({ kind }) => kind)).toEqual(["undone", "fitted", "arrived"]);
    expect(view.undoable).toEqual([]);
    const journal = await store.journal({ from: 0, to: t0 + 900, limit: 50 });
    expect(journal.map(({ kind }) => kind)).toContain("person-undo");
    expect(await rack.undo(station(), "Ben")).toMatchObject({ ok: false, kind: "nothing-to-do" });
  });

  test("after half an hour it is refused, with its reason", async () => {
    const { rack, station, clock } = await openRack();
    await rack.put("north", "c-1", record, 0);
    await rack.fit("c-1", station(), "Ada");
    clock.goTo(t0 + 1801);
    expect(await rack.undo(station(), "Ada")).toMatchObject({
      ok: false,
      why: expect.stringContaining("30 minutes"),
    });
  });

  test("the estimate goes back with it", async () => {
    const { gateway, rack, station, clock, link } = await openRack();
    const feed = async (from: number, to: number) => {
      for (let s = from; s < to; s += 10) {
        clock.goTo(t0 + s + 10);
        const linePa = () => 3.6e5;
        const options = {
          endS: t0 + s + 10,
          seq: s + 1,
          seconds: 10,
          cylinderPa: () => 60e5,
          linePa,
        };
        await link.send(samplesTopic, examplePack(options));
      }
    };
    await feed(0, 300);
    const litres = () => gateway.service.view(station()).estimate?.content.litres ?? 0;
    const before = litres();
    await rack.put("north", "c-1", record, 0);
    await rack.fit("c-1", station(), "Ada");
    await feed(300, 360);
    await rack.undo(station(), "Ada");
    await feed(360, 420);
    expect(Math.abs(litres() - before)).toBeLessThan(0.01 * before);
  });

  test("a change told without a cylinder of the rack takes off what hung there", async () => {
    const { rack, station, gateway } = await openRack();
    await rack.put("north", "c-1", record, 0);
    await rack.fit("c-1", station(), "Ada");
    const t = await gateway.service.say(station(), { swap: { lot: "X-1" } });
    await rack.told(station(), t, { lot: "X-1" });
    let view = await rack.view("north");
    expect(view.cylinders).toMatchObject([{ place: "used", station: null }]);
    expect(view.moves[0]).toMatchObject({ kind: "fitted", cylinder: null, lot: "X-1" });
    await rack.undo(station(), "Ada");
    view = await rack.view("north");
    expect(view.cylinders).toMatchObject([{ place: "fitted", station: "north.bay-3" }]);
    expect(await rack.giveBack("c-1", "Ada")).toMatchObject({ ok: false });
  });

  test("the tare of a cylinder goes with it: another one's is told, or its scale does not count", async () => {
    const { rack, station, gateway } = await openRack();
    const co2 = {
      ...{ gas: "C1-C", composition: { CO2: 1 }, waterVolumeL: 40, count: 1 },
      ...{ filledKg: 30, tareKg: 42.5 },
    };
    const { document, version } = station();
    const saved = await gateway.service.save({ ...document, cylinder: co2 }, version);
    expect(saved.ok).toBe(true);
    const tell = async (swap: { tareKg?: number; lot?: string }) => {
      const described = await rack.newTare(station(), swap.tareKg);
      const t = await gateway.service.say(station(), { swap });
      await rack.told(station(), t, swap, described);
    };
    await tell({ tareKg: 44 });
    expect(station().document.cylinder).toEqual({ ...co2, tareKg: 44 });
    await tell({});
    expect(station().document.cylinder).not.toHaveProperty("tareKg");
    expect(station().document.cylinder).toMatchObject({ filledKg: 30 });
    // Taken back: the one before hangs there still, and so does its tare.
    await rack.undo(station(), "Ada");
    expect(station().document.cylinder).toEqual({ ...co2, tareKg: 44 });
  });

  test("the tare of a shared supply goes with its cylinder, at whichever station the change is told", async () => {
    const { rack, station, gateway } = await openRack();
    const { cylinder: _, ...drop } = station().document;
    const co2 = {
      ...{ gas: "C1-C", composition: { CO2: 1 }, waterVolumeL: 40, count: 1 },
      ...{ filledKg: 30, tareKg: 42.5 },
    };
    const ring = supplySchema.parse({
      ...{
        schema: 1,
        supply: "ring-1",
        site: "north",
        node: null,
        kind: "cylinder",
        reserve: null,
      },
      ...{ cylinder: co2, regulator: drop.regulator, drops: [drop.station] },
    });
    expect((await gateway.service.save(ring, null)).ok).toBe(true);
    const sensors = { line: drop.sensors?.line };
    const joined = await gateway.service.save(
      { ...drop, supply: "ring-1", sensors } as StationDocument,
      station().version,
    );
    expect(joined.ok).toBe(true);
    const cylinder = () => gateway.directory.supply("north.ring-1")?.document.cylinder;
    const tell = async (swap: { tareKg?: number; lot?: string }) => {
      const described = await rack.newTare(station(), swap.tareKg);
      const t = await gateway.service.say(station(), { swap });
      await rack.told(station(), t, swap, described);
    };
    await tell({ tareKg: 44 });
    expect(cylinder()).toMatchObject({ tareKg: 44 });
    await tell({});
    expect(cylinder()).not.toHaveProperty("tareKg");
    expect(cylinder()).toMatchObject({ filledKg: 30 });
    expect(station().document.cylinder).toBeUndefined();
    await rack.undo(station(), "Ada");
    expect(cylinder()).toMatchObject({ tareKg: 44 });
  });

  test("a new cylinder takes no id of the demo, with which it would be deleted", async () => {
    const { rack, store } = await openRack();
    expect(await rack.put("north", "demo-5", record, 0)).toMatchObject({
      ok: false,
      kind: "invalid-document",
      why: expect.stringContaining("give this one another id"),
    });
    expect((await rack.view("north")).cylinders).toEqual([]);
    // The demo's own are changed as any other.
    const place = { place: "store", station: null, since: t0 } as const;
    const ofDemo = { id: "demo-0", site: "north", version: 1, record, ...place };
    await store.rack.write("north", [ofDemo], []);
    expect(await rack.put("north", "demo-0", { ...record, lot: "L-8" }, 1)).toEqual({ ok: true });
  });

  test("a cylinder of one site is not overwritten from another", async () => {
    const { rack } = await openRack();
    await rack.put("north", "c-1", record, 0);
    expect(await rack.put("south", "c-1", { ...record, lot: "L-9" }, 0)).toMatchObject({
      ok: false,
      kind: "invalid-document",
      why: expect.stringContaining("at another site"),
    });
    expect((await rack.view("north")).cylinders).toMatchObject([{ id: "c-1", record }]);
    expect((await rack.view("south")).cylinders).toEqual([]);
  });

  test("serial numbers are unique, and versions are kept apart", async () => {
    const { rack } = await openRack();
    await rack.put("north", "c-1", record, 0);
    expect(await rack.put("north", "c-2", record, 0)).toMatchObject({ kind: "invalid-document" });
    expect(await rack.put("north", "c-1", record, 0)).toMatchObject({ kind: "version-conflict" });
    expect(await rack.put("north", "c-1", { ...record, lot: "L-8" }, 1)).toEqual({ ok: true });
    const [first] = (await rack.view("north")).cylinders;
    // 150 bar gauge of argon at 15 °C in 40 L: about 6.6 m³ at 20 °C (ideal gas 6.1, Z about 0.92).
    expect(first?.fullLitres).toBeGreaterThan(6300);
    expect(first?.fullLitres).toBeLessThan(6900);
  });
});
