import type { StationList, StationView } from "@leeward/shared-core/api/stations.ts";
import { describe, expect, it } from "vitest";
import {
  eventually,
  examplePack,
  exampleStation,
  samplesTopic,
  temporaryFolder,
} from "../gateway/support.ts";
import { mosquittoPub, startMosquitto } from "./mosquitto.ts";
import { ready, runGateway } from "./program.ts";

async function getJson<T>(url: string): Promise<T> {
  const response = await fetch(url);
  expect(response.status).toBe(200);
  return (await response.json()) as T;
}

describe.each([
  ["its own broker", false],
  ["Debian's mosquitto as its broker", true],
])("a node nobody knows, by mosquitto_pub, through %s", (_name, external) => {
  it("shows as unclaimed, is claimed, and its values appear, those of before too", {
    timeout: 90_000,
  }, async () => {
    const mosquitto = external ? await startMosquitto() : null;
    const args = ["--no-virtual", ...(mosquitto ? ["--broker-url", mosquitto.url] : [])];
    const run = await runGateway(temporaryFolder(), args);
    await ready(run);
    const broker = mosquitto?.url ?? run.broker;
    const nowS = Math.floor(Date.now() / 1000);
    for (let seq = 1; seq <= 20; seq++) {
      await mosquittoPub(broker, samplesTopic, examplePack({ endS: nowS - 40 + 2 * seq, seq }));
    }
    const before = await eventually(async () => {
      const list = await getJson<StationList>(`${run.api}/stations`);
      const [node] = list.unclaimed;
      return node?.measured["line-pressure"] === undefined ? null : list;
    }, "the node shows as unclaimed");
    expect(before.stations).toEqual([]);
    expect(before.unclaimed[0]).toMatchObject({
      site: "north",
      node: "n-07",
      measured: { "cylinder-pressure": 150e5, "line-pressure": 3.45e5 },
    });

    const put = await fetch(`${run.api}/stations/north.bay-3`, {
      method: "PUT",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(exampleStation()),
    });
    expect(put.status).toBe(201);
    expect(put.headers.get("etag")).toBe('"1"');

    const station = await eventually(async () => {
      const view = await getJson<StationView>(`${run.api}/stations/north.bay-3`);
      return view.estimate?.measured?.linePa ? view : null;
    }, "values appear");
    expect(station.estimate?.measured?.linePa).toBe(3.45e5);
    expect(station.node).toMatchObject({ name: "n-07", state: "online" });
    const after = await getJson<StationList>(`${run.api}/stations`);
    expect(after.unclaimed).toEqual([]);
    const history = await getJson<{ series: Record<string, { t: number[]; mean: number[] }> }>(
      `${run.api}/stations/north.bay-3/history?from=${nowS - 60}&to=${nowS + 1}&points=120`,
    );
    // Samples from before the claim are there: the node brought its past along.
    expect(history.series["line-pressure"]?.t.length).toBeGreaterThanOrEqual(39);

    await mosquittoPub(
      broker,
      samplesTopic,
      examplePack({ endS: nowS + 2, seq: 21, linePa: () => 2e5 }),
    );
    await eventually(async () => {
      const view = await getJson<StationView>(`${run.api}/stations/north.bay-3`);
      return Date.parse(view.node.lastSample ?? "") / 1000 === nowS + 2;
    }, "new values follow");

    run.child.kill("SIGTERM");
    expect(await run.ended).toBe(0);
    expect(run.out).toContain("Stopped.");
    expect(run.error).toBe("");
  });
});
