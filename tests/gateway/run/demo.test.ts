import type { CylinderRecord } from "@leeward/shared-core/api/rack.ts";
import { describe, expect, it } from "vitest";
import { demoEnded, demoSite, forgetDemo } from "../../../gateway/run/demo.ts";
import { fillDemoRack } from "../../../gateway/run/demo-rack.ts";
import { examplePack, exampleStation, startTestGateway, t0 } from "../support.ts";

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
    const found = await forgetDemo(store);
    expect(found).toEqual({ realStations: ["Own bay"], forgotten: 1 });
    expect((await store.descriptions()).map(({ name }) => name)).toEqual(["own-bay"]);
    expect(await logged(store, "n-90")).toBe(before);
    expect(await logged(store, "v-01")).toBe(0);
    expect((await store.nodes()).map(({ node }) => node)).toEqual(["n-90"]);
    expect([...(await store.latestEstimates()).keys()]).toEqual(["boatyard.own-bay"]);
    const kept = await store.rack.list(demoSite);
    expect(kept.map(({ id, place, station }) => [id, place, station]).sort()).toEqual([
      ["own-1", "fitted", "boatyard.own-bay"],
      // It hung at a station that was never there.
      ["own-2", "store", null],
      ["own-3", "store", null],
    ]);
    const moves = await store.rack.moves(demoSite, 99);
    expect(moves.map((move) => move.cylinder).sort()).toEqual(["own-1", "own-2", "own-3"]);
  });

  it("who starts the gateway is told, and only then", () => {
    const ended = demoEnded({ realStations: ["Own bay", "Bay 2"], forgotten: 6 });
    expect(ended).toContain("(Own bay and 1 more)");
    expect(ended).toContain("its 6 virtual stations and their invented past are deleted");
    expect(demoEnded({ realStations: ["Own bay"], forgotten: 0 })).toBeNull();
    expect(demoEnded({ realStations: [], forgotten: 6 })).toBeNull();
  });
});
