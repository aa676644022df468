import { join } from "node:path";
import type { CylinderRecord } from "@leeward/shared-core/api/rack.ts";
import { describe, expect, it } from "vitest";
import { demoEnded, demoSite, forgetDemo, storedStations } from "../../../gateway/run/demo.ts";
import { fillDemoRack } from "../../../gateway/run/demo-rack.ts";
import { startGateway } from "../../../gateway/run/run.ts";
import { loadSettings } from "../../../gateway/settings/load.ts";
import { openSqliteStore } from "../../../gateway/store/open-sqlite.ts";
import { examplePack, exampleStation, startTestGateway, t0, temporaryFolder } from "../support.ts";

const cylinder = (serial: string): CylinderRecord => ({
  serial,
  lot: "L-7",
  gas: "I1-Ar",
  composition: { Ar: 1 },
  waterVolumeL: 50,
  filledBar: 200,
  filledC: 15,
  supplier: "",
});

const ofDemo = exampleStation({ site: demoSite, station: "slipway", node: "v-01", virtual: true });
const own = exampleStation({ site: demoSite, station: "own-bay", node: "n-90", name: "Own bay" });

async function demoWithOwn() {
  const running = await startTestGateway();
  const { gateway, store, clock, link } = running;
  await gateway.service.save(ofDemo, null);
  await gateway.service.save(own, null);
  await fillDemoRack(store.rack, demoSite, [ofDemo], t0);
  const at = { site: demoSite, version: 1, since: t0 };
  await store.rack.write(
    demoSite,
    [
      { ...at, id: "own-1", record: cylinder("O-1"), place: "fitted", station: "boatyard.own-bay" },
      { ...at, id: "own-2", record: cylinder("O-2"), place: "fitted", station: "boatyard.slipway" },
      { ...at, id: "own-3", record: cylinder("O-3"), place: "store", station: null },
    ],
    ["own-1", "own-2", "own-3"].map((id) => ({
      t: t0,
      kind: "arrived" as const,
      cylinder: id,
      serial: id,
      lot: null,
      station: null,
      by: null,
      before: null,
    })),
  );
  for (let seq = 1; seq <= 5; seq++) {
    const endS = t0 + 2 * seq;
    clock.goTo(endS);
    for (const node of ["v-01", "n-90"]) {
      const pack = examplePack({ endS, seq, node });
      pack[0]!.bn = `${demoSite}/${node}:`;
      await link.send(`leeward/v1/${demoSite}/${node}/samples`, pack);
    }
  }
  await gateway.sink.flush();
  return running;
}

const logged = async (store: Awaited<ReturnType<typeof demoWithOwn>>["store"], node: string) =>
  (
    await store.readLog({
      afterId: 0,
      of: { site: demoSite, nodes: [node], stations: [] },
      limit: 99,
    })
  ).length;

describe("when the demo ends", () => {
  it("its stations, past and cylinders go; a real station at the same site keeps all of its own", async () => {
    const { store } = await demoWithOwn();
    const before = await logged(store, "n-90");
    expect(before).toBeGreaterThan(0);
    expect(await logged(store, "v-01")).toBeGreaterThan(0);
    const found = await storedStations(store);
    expect(found.real).toEqual(["Own bay"]);
    expect(found.virtual.map(({ name }) => name)).toEqual(["slipway"]);
    await forgetDemo(store, found.virtual, t0 + 60);
    expect((await store.descriptions()).map(({ name }) => name)).toEqual(["own-bay"]);
    expect(await logged(store, "n-90")).toBe(before);
    expect(await logged(store, "v-01")).toBe(0);
    expect((await store.nodes()).map(({ node }) => node)).toEqual(["n-90"]);
    expect([...(await store.latestEstimates()).keys()]).toEqual(["boatyard.own-bay"]);
    const kept = await store.rack.list(demoSite);
    expect(
      kept.map(({ id, place, station, since }) => [id, place, station, since - t0]).sort(),
    ).toEqual([
      ["own-1", "fitted", "boatyard.own-bay", 0],
      // It hung at a station that was never there.
      ["own-2", "store", null, 60],
      ["own-3", "store", null, 0],
    ]);
    const moves = await store.rack.moves(demoSite, 99);
    expect(moves.map(({ cylinder, kind, t }) => [cylinder, kind, t - t0])).toEqual([
      ["own-2", "undone", 60],
      ["own-3", "arrived", 0],
      ["own-2", "arrived", 0],
      ["own-1", "arrived", 0],
    ]);
  });

  it("what a cylinder of the demo did at a real station stays in that station's record", async () => {
    const { store } = await demoWithOwn();
    const demos = (await store.rack.list(demoSite)).find(({ id }) => id === "demo-full-0");
    if (!demos) throw new Error("the demo has no full cylinder in store");
    const { serial, lot } = demos.record;
    const of = { cylinder: demos.id, serial, lot, by: "Ada", before: null };
    const at = (station: string, kind: "fitted" | "taken-off", t: number) => ({
      ...of,
      station: `${demoSite}.${station}`,
      kind,
      t: t0 + t,
    });
    await store.rack.write(
      demoSite,
      [{ ...demos, place: "used", station: null, since: t0 + 40 }],
      [
        at("slipway", "fitted", 10),
        at("slipway", "taken-off", 20),
        at("own-bay", "fitted", 30),
        at("own-bay", "taken-off", 40),
      ],
    );
    await forgetDemo(store, (await storedStations(store)).virtual, t0 + 60);
    expect((await store.rack.list(demoSite)).map(({ id }) => id)).not.toContain(demos.id);
    const ofDemos = (await store.rack.moves(demoSite, 99)).filter(
      (one) => one.cylinder === demos.id,
    );
    expect(ofDemos.map(({ station, kind }) => [station, kind])).toEqual([
      ["boatyard.own-bay", "taken-off"],
      ["boatyard.own-bay", "fitted"],
    ]);
  });

  it("who starts the gateway is told, and only then", () => {
    const one = {
      kind: "station",
      site: demoSite,
      name: "slipway",
      version: 1,
      validFrom: t0,
    } as const;
    const virtual = [
      { ...one, document: ofDemo },
      { ...one, name: "quay", document: ofDemo },
    ];
    const ended = demoEnded({ real: ["Own bay", "Bay 2"], virtual }, false);
    expect(ended).toContain("(Own bay and 1 more)");
    expect(ended).toContain("its 2 virtual stations and their invented past are deleted");
    expect(demoEnded({ real: ["Own bay"], virtual: [] }, false)).toBeNull();
    expect(demoEnded({ real: [], virtual }, true)).toBeNull();
    const off = demoEnded({ real: [], virtual }, false);
    expect(off).toContain("since virtual stations are switched off: its 2 virtual stations");
    expect(off).not.toContain("undefined");
  });

  it("a start that is refused for its demo speed has deleted nothing; one that is not says so", async () => {
    const folder = temporaryFolder();
    const { gateway, stop } = await startTestGateway({ folder });
    await gateway.service.save(ofDemo, null);
    await stop();
    const left = async () => {
      const store = await openSqliteStore(join(folder, "leeward.sqlite"));
      const names = (await store.descriptions()).map(({ name }) => name);
      await store.close();
      return names;
    };
    const start = async (flags: { demoSpeed?: string }) => {
      const given = { data: folder, port: "0", mqttPort: "0", virtual: "off", logLevel: "silent" };
      const loaded = loadSettings({ ...given, ...flags }, {});
      if (!loaded.ok) throw new Error(loaded.message);
      const said: string[] = [];
      const running = await startGateway(loaded.settings, (line) => said.push(line));
      await running.stop();
      return said;
    };
    await expect(start({ demoSpeed: "20" })).rejects.toThrow("--demo-speed 20 is for virtual");
    expect(await left()).toEqual(["slipway"]);
    expect((await start({})).join()).toContain("The demo has ended, since virtual stations are");
    expect(await left()).toEqual([]);
  });
});
