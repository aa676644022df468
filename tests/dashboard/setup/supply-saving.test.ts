import type { AddressInfo } from "node:net";
import { join } from "node:path";
import {
  type StationDocument,
  type SupplyDocument,
  supplySchema,
} from "@leeward/shared-core/documents/station.ts";
import { beforeEach, expect, test, vi } from "vitest";
import { getStation } from "../../../dashboard/api/client.ts";
import { leftBehind, saveSupply } from "../../../dashboard/setup/supply-saving.ts";
import { createHttpServer } from "../../../gateway/http/server.ts";
import { createMetrics } from "../../../gateway/run/metrics.ts";
import {
  exampleStation,
  quietLog,
  startTestGateway,
  type TestGateway,
  temporaryFolder,
  whenOver,
} from "../../gateway/support.ts";

let running: TestGateway;
/** What somebody else does just before the gateway hears the next request of this kind and path. */
let meanwhile: { request: string; act: () => Promise<unknown> } | null;
/** A request of this kind and path is heard and done, and its answer does not come back. */
let unanswered: { request: string; nth: number } | null;

beforeEach(async () => {
  running = await startTestGateway();
  meanwhile = null;
  unanswered = null;
  const { gateway, store, clock } = running;
  const app = await createHttpServer(
    {
      ...{ version: "0.0.0", clock, store, alarms: gateway.alarms, directory: gateway.directory },
      ...{ service: gateway.service, bus: gateway.bus, metrics: createMetrics(gateway) },
      site: { id: "north", name: "North yard", timeZone: "Europe/Copenhagen" },
      retention: { rawDays: 14, minuteDays: 400 },
      readiness: () => gateway.readiness(),
    },
    { dashboardDir: join(temporaryFolder(), "none"), log: quietLog, loopbackOnly: true },
  );
  await app.listen({ port: 0, host: "127.0.0.1" });
  whenOver(() => app.close());
  const page = `http://127.0.0.1:${(app.server.address() as AddressInfo).port}/`;
  const send = globalThis.fetch;
  // The browser asks relative to its page.
  vi.stubGlobal("fetch", async (path: string, init: RequestInit = {}) => {
    const now = meanwhile;
    if (now?.request === `${init.method ?? "GET"} ${path}`) {
      meanwhile = null;
      await now.act();
    }
    const answer = await send(new URL(path, page), init);
    if (unanswered?.request === `${init.method ?? "GET"} ${path}` && --unanswered.nth === 0) {
      throw new TypeError("network lost");
    }
    if (unanswered?.nth === 0) throw new TypeError("network lost");
    return answer;
  });
  whenOver(() => vi.unstubAllGlobals());
});

const bay = (station: string, node: string, more: Partial<StationDocument> = {}) =>
  exampleStation({ station, node, ...more });
const ring: SupplyDocument = supplySchema.parse({
  ...{ schema: 1, supply: "ring-1", site: "north", node: "n-41", kind: "cylinder", reserve: null },
  cylinder: exampleStation().cylinder,
  regulator: exampleStation().regulator,
  drops: ["bay-5", "bay-6"],
});
const ids = ["north.bay-5", "north.bay-6"];

async function twoStations(): Promise<void> {
  await running.gateway.service.save(bay("bay-5", "n-41"), null);
  await running.gateway.service.save(bay("bay-6", "n-42"), null);
}

/** Somebody else saves the station between its being read and its being written. */
const changedMeanwhile = (station: string, node: string, version: number) => ({
  request: `PUT api/v1/stations/north.${station}`,
  act: () => running.gateway.service.save(bay(station, node, { altitudeM: 6 }), version),
});

test.each([
  ["the first station", "bay-5", "n-41"],
  ["the last station", "bay-6", "n-42"],
])("stopped at %s, saving again goes on from what was saved", async (_, station, node) => {
  await twoStations();
  meanwhile = changedMeanwhile(station, node, 1);
  const first = await saveSupply(ring, ids, "own", null);
  expect(first.failed).toMatchObject({ station: `north.${station}`, answer: { status: 412 } });
  expect(first.stored).toMatchObject({ id: "north.ring-1", version: 1 });

  const again = await saveSupply(ring, ids, "own", first.stored);
  expect(again.failed).toBeNull();
  const described = async (id: string) => {
    const answer = await getStation(id);
    return answer.ok ? answer.value.description : null;
  };
  expect(again.stored?.description).toMatchObject({ node: "n-41", drops: ring.drops });
  expect(await described("north.bay-5")).toMatchObject({ supply: "ring-1", node: null });
  expect(await described("north.bay-6")).toMatchObject({ supply: "ring-1", node: "n-42" });
  // What somebody else changed meanwhile stands.
  expect((await described(`north.${station}`))?.altitudeM).toBe(6);
});

test("a supply that somebody else saved meanwhile is not overwritten", async () => {
  await twoStations();
  const saved = await saveSupply(ring, ids, "own", null);
  await running.gateway.service.save({ ...ring, altitudeM: 6 }, saved.stored?.version ?? null);
  const late = await saveSupply(ring, ids, "own", saved.stored);
  expect(late.failed).toMatchObject({ station: null, answer: { status: 412 } });
  expect(late.stored).toBe(saved.stored);
});

test.each([
  ["the first answer of the supply", 1],
  ["its last", 2],
])("%s is lost: saving again finds that it was saved, and goes on", async (_, nth) => {
  await twoStations();
  unanswered = { request: "PUT api/v1/supplies/north.ring-1", nth };
  const first = await saveSupply(ring, ids, "own", null);
  expect(first.failed).toMatchObject({ station: null, answer: { ok: false } });
  expect(running.gateway.directory.supply("north.ring-1")?.version).toBe(nth);

  unanswered = null;
  const again = await saveSupply(ring, ids, "own", first.stored);
  expect(again.failed).toBeNull();
  expect(again.stored).toMatchObject({ version: 2, description: { node: "n-41" } });
});

test("a supply of this name that says something else is not taken for the one that was sent", async () => {
  await twoStations();
  await running.gateway.service.save({ ...ring, node: null, altitudeM: 6 }, null);
  const late = await saveSupply(ring, ids, "own", null);
  expect(late.failed).toMatchObject({ station: null, answer: { ok: false } });
  expect(late.stored).toBeNull();
});

test("what an unanswered try left behind is known again by its words, its node apart", () => {
  const view = { id: "north.ring-1", version: 1, description: { ...ring, node: null } };
  expect(leftBehind(ring, [view])).toBe(view);
  expect(leftBehind({ ...ring, drops: ["bay-5"] }, [view])).toBeNull();
  expect(leftBehind({ ...ring, supply: "ring-2" }, [view])).toBeNull();
});
