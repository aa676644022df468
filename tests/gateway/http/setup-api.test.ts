import type { AddressInfo } from "node:net";
import { join } from "node:path";
import type { NodeView, SiteView } from "@leeward/shared-core/api/setup.ts";
import { beforeEach, describe, expect, it } from "vitest";
import { createHttpServer } from "../../../gateway/http/server.ts";
import { createMetrics } from "../../../gateway/run/metrics.ts";
import {
  eventually,
  examplePack,
  exampleStation,
  quietLog,
  samplesTopic,
  startTestGateway,
  type TestGateway,
  t0,
  temporaryFolder,
  whenOver,
} from "../support.ts";

let running: TestGateway;
let base: string;

beforeEach(async () => {
  running = await startTestGateway();
  base = await serve(running);
});

/** The API of a gateway on a port of its own. */
async function serve({ gateway, store, clock }: TestGateway): Promise<string> {
  const app = await createHttpServer(
    {
      version: "0.0.0",
      clock,
      store,
      alarms: gateway.alarms,
      directory: gateway.directory,
      service: gateway.service,
      bus: gateway.bus,
      site: { id: "north", name: "North yard", timeZone: "Europe/Copenhagen" },
      retention: { rawDays: 14, minuteDays: 400 },
      readiness: () => gateway.readiness(),
      metrics: createMetrics(gateway),
    },
    { dashboardDir: join(temporaryFolder(), "none"), log: quietLog, loopbackOnly: true },
  );
  await app.listen({ port: 0, host: "127.0.0.1" });
  whenOver(() => app.close());
  return `http://127.0.0.1:${(app.server.address() as AddressInfo).port}/api/v1`;
}

async function getJson<T>(path: string): Promise<T> {
  const response = await fetch(`${base}/${path}`);
  expect(response.status, path).toBe(200);
  return (await response.json()) as T;
}

const putSite = (body: object, headers: Record<string, string> = {}, site = "north") =>
  fetch(`${base}/sites/${site}`, {
    method: "PUT",
    headers: { "content-type": "application/json", ...headers },
    body: JSON.stringify(body),
  });

describe("the site's document", () => {
  const document = { schema: 1, site: "north", name: "Boatyard", timeZone: "Europe/Lisbon" };

  it("begins as the settings have it, is saved in versions, and shows in the list at once", async () => {
    const before = await getJson<SiteView>("sites/north");
    expect(before).toMatchObject({
      version: 0,
      description: { name: "North yard", timeZone: "Europe/Copenhagen" },
    });
    const made = await putSite({ ...document, currency: "EUR" });
    expect(made.status).toBe(201);
    expect(made.headers.get("etag")).toBe('"1"');
    const list = await getJson<{ site: unknown }>("stations");
    expect(list.site).toEqual({
      id: "north",
      name: "Boatyard",
      timeZone: "Europe/Lisbon",
      currency: "EUR",
    });
    expect((await putSite(document)).status).toBe(428);
    expect((await putSite(document, { "if-match": '"7"' })).status).toBe(412);
    expect((await putSite(document, { "if-match": '"1"' })).status).toBe(200);
    expect((await getJson<SiteView>("sites/north")).version).toBe(2);
  });

  it("two writers who have seen the same version: one is told", async () => {
    const answers = await Promise.all([putSite(document), putSite(document)]);
    expect(answers.map((answer) => answer.status).sort()).toEqual([201, 428]);
  });

  it.each([
    ["another site than the path", { ...document, site: "south" }, "site"],
    ["a time zone that is none", { ...document, timeZone: "Mars/Olympus" }, "timeZone"],
    ["a currency of two letters", { ...document, currency: "EU" }, "currency"],
  ])("%s is refused with its place", async (_name, body, path) => {
    const answer = await putSite(body);
    expect(answer.status).toBe(422);
    const problem = (await answer.json()) as { faults: { path: string }[] };
    expect(problem.faults[0]?.path).toBe(path);
    expect((await getJson<SiteView>("sites/north")).version).toBe(0);
  });

  it("stands after a restart, and each engine hears of it in its log", async () => {
    const folder = temporaryFolder();
    const first = await startTestGateway({ folder });
    await first.gateway.service.save(exampleStation(), null);
    const site = { ...document, schema: 1 as const };
    expect((await first.gateway.service.saveSite(site, 0)).ok).toBe(true);
    const log = await first.store.readLog({ afterId: 0, of: null, limit: 50 });
    const setups = log.filter((entry) => entry.kind === "setup");
    expect(setups).toHaveLength(2);
    expect(JSON.parse(setups[1]!.payload)).toMatchObject({ site: { name: "Boatyard" } });
    // No new version of the station: nobody has described it anew.
    expect(first.gateway.directory.station("north.bay-3")?.version).toBe(1);
    await first.stop();
    const second = await startTestGateway({ folder });
    expect(second.gateway.sites.get("north")?.document.name).toBe("Boatyard");
  });
});

describe("nodes", () => {
  it("are listed with what they measure and whose they are", async () => {
    running.clock.goTo(t0 + 5);
    await running.link.send(samplesTopic, examplePack({ endS: t0 + 2, seq: 1, linePa: () => 0 }));
    const { nodes } = await getJson<{ nodes: NodeView[] }>("nodes");
    expect(nodes).toHaveLength(1);
    expect(nodes[0]).toMatchObject({
      id: "north.n-07",
      state: "online",
      owner: null,
      measured: { "line-pressure": { value: 0, ageS: 3 } },
    });
    await running.gateway.service.save(exampleStation(), null);
    expect((await getJson<NodeView>("nodes/north.n-07")).owner).toBe("station:bay-3");
  });

  it("show themselves by their lamp, and their answer comes to the journal", async () => {
    await running.link.send(samplesTopic, examplePack({ endS: t0, seq: 1 }));
    const answer = await fetch(`${base}/nodes/north.n-07/identify`, { method: "POST" });
    expect(answer.status).toBe(202);
    const { id } = (await answer.json()) as { id: string };
    const sent = running.link.published.find((one) => one.topic.endsWith("/n-07/command"));
    expect(JSON.parse(sent?.payload ?? "{}")).toEqual({ id, do: "identify", expires: t0 + 30 });
    await running.link.send("leeward/v1/north/n-07/reply", { id, ok: true });
    const found = await eventually(async () => {
      const { entries } = await getJson<{ entries: { kind: string; detail: unknown }[] }>(
        "journal",
      );
      return entries.find((entry) => entry.kind === "node-reply");
    }, "the node's answer");
    expect(found.detail).toMatchObject({ id, ok: true });
  });

  it("that change are journalled at their station, with both; of a supply at each of its stations", async () => {
    const { service } = running.gateway;
    await service.save(exampleStation(), null);
    await service.save(exampleStation({ node: "n-08" }), 1);
    await service.save(exampleStation({ node: "n-08", altitudeM: 5 }), 2);
    const changes = async (station: string) => {
      const { entries } = await getJson<{ entries: { kind: string; detail: unknown }[] }>(
        `journal?station=${station}`,
      );
      return entries.filter(({ kind }) => kind === "node-changed").map(({ detail }) => detail);
    };
    expect(await changes("north.bay-3")).toEqual([
      { before: "n-07", now: "n-08" },
      { before: null, now: "n-07" },
    ]);
    const supply = {
      ...{ schema: 1, supply: "ring-1", site: "north", node: "n-00", kind: "bank", reserve: null },
      cylinder: exampleStation().cylinder,
      drops: ["bay-4", "bay-5"],
    };
    const put = await fetch(`${base}/supplies/north.ring-1`, {
      method: "PUT",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(supply),
    });
    expect(put.status).toBe(201);
    for (const station of supply.drops) {
      expect(await changes(`north.${station}`)).toEqual([{ before: null, now: "n-00" }]);
    }
    // Its own cylinder's node gets its settings too, and the one that was taken away none of the station's.
    const config = (node: string) =>
      running.link.published.findLast((one) => one.topic.endsWith(`/${node}/config`));
    await running.link.send(samplesTopic, examplePack({ endS: t0, seq: 1 }));
    await service.save(exampleStation({ node: "n-08", altitudeM: 6 }), 3);
    expect(JSON.parse(config("n-07")?.payload ?? "{}")).toMatchObject({ calibration: {} });
    expect(JSON.parse(config("n-08")?.payload ?? "{}").calibration.line.fitted).toBe(true);
  });

  it("that nobody heard are not found, with what to check", async () => {
    const answer = await fetch(`${base}/nodes/north.n-99/identify`, { method: "POST" });
    expect(answer.status).toBe(404);
    expect(((await answer.json()) as { detail: string }).detail).toContain("Check its power");
    expect((await fetch(`${base}/nodes/nonsense`)).status).toBe(404);
  });
});

describe("the code on a station's label", () => {
  it("is an SVG for a station that is here, and refuses an address that is none", async () => {
    await running.gateway.service.save(exampleStation(), null);
    const at = (address: string, id = "north.bay-3") =>
      fetch(`${base}/stations/${id}/code.svg?address=${encodeURIComponent(address)}`);
    const code = await at("https://gas.example.org/");
    expect(code.headers.get("content-type")).toContain("image/svg+xml");
    expect(await code.text()).toMatch(/^<svg [^>]*viewBox="0 0 \d+ \d+"/);
    expect((await at("javascript:alert(1)")).status).toBe(400);
    expect((await at("https://gas.example.org/", "north.nowhere")).status).toBe(404);
  });
});
