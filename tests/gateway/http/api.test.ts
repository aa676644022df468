import { type AddressInfo, connect } from "node:net";
import { join } from "node:path";
import type { History, StationList, StationView } from "@leeward/shared-core/api/stations.ts";
import { stationListSchema } from "@leeward/shared-core/api/stations.ts";
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

let base = "";
let running: TestGateway;
let port = 0;

beforeEach(async () => {
  running = await startTestGateway();
  const { gateway, store, clock } = running;
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
  port = (app.server.address() as AddressInfo).port;
  base = `http://127.0.0.1:${port}`;
});

const json = { "content-type": "application/json" };

function put(id: string, document: unknown, headers: Record<string, string> = {}) {
  return fetch(`${base}/api/v1/stations/${id}`, {
    method: "PUT",
    headers: { ...json, ...headers },
    body: typeof document === "string" ? document : JSON.stringify(document),
  });
}

function post(path: string, body: unknown, headers: Record<string, string> = {}) {
  return fetch(`${base}/api/v1/stations/${path}`, {
    method: "POST",
    headers: { ...json, ...headers },
    body: JSON.stringify(body),
  });
}

async function problemOf(response: Response) {
  expect(response.headers.get("content-type")).toContain("application/problem+json");
  const problem = (await response.json()) as {
    type: string;
    status: number;
    detail: string;
    faults?: { path: string; message: string }[];
  };
  expect(problem.status).toBe(response.status);
  return problem;
}

/** Station, node and ten minutes of samples. */
async function liveStation() {
  expect((await put("north.bay-3", exampleStation())).status).toBe(201);
  const sent: Promise<void>[] = [];
  for (let seq = 1; seq <= 300; seq++) {
    const endS = t0 + 2 * seq;
    running.clock.goTo(endS + 0.2);
    sent.push(running.link.send(samplesTopic, examplePack({ endS, seq })));
  }
  await Promise.all(sent);
  await running.gateway.sink.flush();
}

describe("gas without a job", () => {
  it("is claimed afterwards, journalled, and taken back; what was told at the time stands", async () => {
    await liveStation();
    const claim = (body: Record<string, unknown>) => post("north.bay-3/claims", body);
    const jobs = async () => {
      const query = `from=${t0}&to=${t0 + 600}`;
      const response = await fetch(`${base}/api/v1/stations/north.bay-3/jobs?${query}`);
      return ((await response.json()) as { jobs: unknown[] }).jobs;
    };
    const span = { from: t0, to: t0 + 600 };
    expect((await claim(span)).status).toBe(422);
    expect((await claim({ ...span, to: t0 + 1e6, job: "keel 7" })).status).toBe(400);
    const nothing = await claim({ from: t0 - 600, to: t0 - 10, job: "keel 7" });
    expect((await problemOf(nothing)).type).toBe("/problems/nothing-to-do");
    const answer = await claim({ ...span, job: "keel 7", welder: "Ada", by: "Grace" });
    expect(answer.status).toBe(201);
    const claimed = { ...span, job: "keel 7", welder: "Ada", wps: null, gasless: false };
    const [entry] = await running.store.journal({
      ...{ site: "north", station: "bay-3", kinds: ["gas-claimed"] },
      ...{ from: t0, to: t0 + 1e6, limit: 5 },
    });
    expect(entry?.detail).toMatchObject({ ...span, job: "keel 7", by: "Grace", release: false });
    const by = { claimedBy: "Grace", claimedAt: entry?.t };
    expect(await jobs()).toEqual([{ ...claimed, ...by }]);
    const both = await claim({ ...span, job: "keel 7", release: true });
    expect(both.status).toBe(422);
    expect(JSON.stringify(await both.json())).toContain("both takes back and gives");
    expect((await claim({ ...span, from: t0 + 300, release: true })).status).toBe(201);
    expect(await jobs()).toEqual([{ ...claimed, to: t0 + 300, ...by }]);
  });
});

describe("stations", () => {
  it("are put, got and listed with the latest estimate", async () => {
    await liveStation();
    const list = (await (await fetch(`${base}/api/v1/stations`)).json()) as StationList;
    expect(stationListSchema.safeParse(list).success).toBe(true);
    expect(list.site).toEqual({ id: "north", name: "North yard", timeZone: "Europe/Copenhagen" });
    expect(list.demo).toEqual({ virtual: false, speed: 1 });
    const [listed] = list.stations;
    const response = await fetch(`${base}/api/v1/stations/north.bay-3`);
    const view = (await response.json()) as StationView;
    expect(response.headers.get("etag")).toBe('"1"');
    expect(view).toEqual(listed);
    expect(view.estimate?.t).toBe(t0 + 600);
    expect(view.node).toEqual({
      name: "n-07",
      state: "online",
      lastSample: new Date((t0 + 600) * 1000).toISOString(),
    });
  });

  it("are stored with keys that are not known, and the answer asks about them", async () => {
    const { hose, ...rest } = exampleStation();
    const response = await put("north.bay-3", { ...rest, hoze: hose });
    expect(response.status).toBe(201);
    const answer = (await response.json()) as { warnings?: unknown; description: object };
    expect(answer.warnings).toEqual([
      {
        path: "hoze",
        message: "is not known, so it is kept but not used: did you mean hose?",
      },
    ]);
    expect(answer.description).toHaveProperty("hoze");
    const clean = await put("north.bay-3", exampleStation(), { "if-match": "*" });
    expect(await clean.json()).not.toHaveProperty("warnings");
  });

  it("change only for who has seen the version that is there", async () => {
    await put("north.bay-3", exampleStation());
    const changed = exampleStation({ altitudeM: 5 });
    expect((await problemOf(await put("north.bay-3", changed))).type).toBe(
      "/problems/precondition-required",
    );
    const stale = await put("north.bay-3", changed, { "if-match": '"7"' });
    expect((await problemOf(stale)).type).toBe("/problems/version-conflict");
    const good = await put("north.bay-3", changed, { "if-match": '"1"' });
    expect(good.status).toBe(200);
    expect(good.headers.get("etag")).toBe('"2"');
    expect((await put("north.bay-3", changed, { "if-match": "*" })).status).toBe(200);
    const odd = await put("north.bay-3", changed, { "if-match": "latest" });
    expect((await problemOf(odd)).type).toBe("/problems/invalid-request");
  });

  it("take one of two writers who saw the same version", async () => {
    await put("north.bay-3", exampleStation());
    const both = await Promise.all(
      [1, 2].map((altitudeM) =>
        put("north.bay-3", exampleStation({ altitudeM }), { "if-match": '"1"' }),
      ),
    );
    expect(both.map((response) => response.status).sort()).toEqual([200, 412]);
  });

  const { cylinder: _, ...withoutCylinder } = exampleStation();
  it.each([
    ["a missing cylinder", withoutCylinder, "cylinder"],
    [
      "a negative water volume",
      {
        ...exampleStation(),
        cylinder: { ...exampleStation().cylinder, waterVolumeL: -5 },
      },
      "cylinder.waterVolumeL",
    ],
    [
      "a delivery above the limit",
      { ...exampleStation(), regulator: { stages: 1, deliveryBar: 9, maxLineBar: 8 } },
      "regulator.maxLineBar",
    ],
    [
      "an upside-down scale",
      { ...exampleStation(), flowDevice: { ...exampleStation().flowDevice, scaleMin: 20 } },
      "flowDevice.scaleMax",
    ],
    ["a bad name", { ...exampleStation(), node: "N 07" }, "node"],
    ["no schema", { ...exampleStation(), schema: 2 }, "schema"],
    ["a supply nobody knows", { ...withoutCylinder, supply: "ring-1" }, "supply"],
  ])("with %s are refused, place and reason told", async (_name, document, path) => {
    const problem = await problemOf(await put("north.bay-3", document));
    expect(problem.type).toBe("/problems/invalid-document");
    expect(problem.faults?.map((fault) => fault.path)).toContain(path);
  });

  it("do not take another's node, nor another's name", async () => {
    await put("north.bay-3", exampleStation());
    const thief = await problemOf(await put("north.bay-4", exampleStation({ station: "bay-4" })));
    expect(thief.faults?.[0]?.path).toBe("node");
    expect(thief.detail).toContain("bay-3");
    const misnamed = await problemOf(await put("north.bay-9", exampleStation({ node: null })));
    expect(misnamed.type).toBe("/problems/invalid-document");
  });

  it("answer broken JSON, other types, large bodies and unknown ids with problems", async () => {
    expect((await problemOf(await put("north.bay-3", "{"))).type).toBe("/problems/invalid-request");
    const form = await fetch(`${base}/api/v1/stations/north.bay-3`, {
      method: "PUT",
      headers: { "content-type": "application/x-www-form-urlencoded" },
      body: "a=b",
    });
    expect((await problemOf(form)).type).toBe("/problems/unsupported-media-type");
    const text = await fetch(`${base}/api/v1/stations/north.bay-3/reading`, {
      method: "POST",
      headers: { "content-type": "text/plain", "idempotency-key": "t" },
      body: "8",
    });
    expect((await problemOf(text)).type).toBe("/problems/unsupported-media-type");
    const undecodable = await fetch(`${base}/api/v1/stations/%zz`);
    expect((await problemOf(undecodable)).type).toBe("/problems/invalid-request");
    const method = await fetch(`${base}/api/v1/stations/north.bay-3`, { method: "DELETE" });
    expect(method.status).toBe(405);
    expect(method.headers.get("allow")).toBe("GET, HEAD, PUT");
    expect((await problemOf(method)).type).toBe("/problems/method-not-allowed");
    const large = await put("north.bay-3", JSON.stringify({ a: "x".repeat(300_000) }));
    expect((await problemOf(large)).type).toBe("/problems/payload-too-large");
    const unknown = await fetch(`${base}/api/v1/stations/north.nowhere`);
    expect((await problemOf(unknown)).type).toBe("/problems/not-found");
    const nothing = await fetch(`${base}/api/v1/nothing`);
    expect((await problemOf(nothing)).type).toBe("/problems/not-found");
  });
});

describe("a set-up that would be dangerous", () => {
  const { sensors, cylinder } = exampleStation();

  it.each<[string, Record<string, unknown>, string[]]>([
    [
      "a line sensor that a failed seat would burst",
      { regulator: { stages: 1, deliveryBar: 3.45 } },
      ["sensors.line.proofBar"],
    ],
    [
      "a cylinder sensor below the pressure at 55 °C",
      { cylinder: { ...cylinder, gas: "M21-ArC-25", composition: { Ar: 0.75, CO2: 0.25 } } },
      ["sensors.cylinder.rangeBar"],
    ],
    [
      "oxygen",
      { cylinder: { ...cylinder, gas: "O1-O", composition: { O2: 1 } } },
      ["cylinder.composition"],
    ],
    [
      "a flammable mixture in parts that are not declared for it",
      { cylinder: { ...cylinder, gas: "R1-ArH-5", composition: { Ar: 0.95, H2: 0.05 } } },
      ["regulator.ratedFor", "sensors.cylinder.ratedFor", "sensors.line.ratedFor"],
    ],
  ])(
    "%s is refused with its place and reason, and nothing is stored",
    async (_name, change, at) => {
      const refused = await put("north.bay-3", exampleStation(change));
      expect(refused.status).toBe(422);
      const problem = await problemOf(refused);
      expect(problem.type).toBe("/problems/dangerous-setup");
      expect(problem.faults?.map((fault) => fault.path)).toEqual(at);
      expect(running.gateway.directory.stations()).toEqual([]);
    },
  );

  it("an edit into danger leaves the station as it was", async () => {
    expect((await put("north.bay-3", exampleStation())).status).toBe(201);
    const worse = exampleStation({
      sensors: { ...sensors, cylinder: { rangeBar: 210, accuracyPercentFs: 0.5 } },
    });
    expect((await put("north.bay-3", worse, { "if-match": '"1"' })).status).toBe(422);
    expect(running.gateway.directory.station("north.bay-3")?.version).toBe(1);
  });

  it("a shared supply is held to the same, with the stations that draw from it", async () => {
    const supply = {
      schema: 1,
      supply: "ring-1",
      site: "north",
      kind: "bank",
      cylinder,
      regulator: { stages: 1, deliveryBar: 8, reliefBar: 12 },
      drops: ["bay-3"],
    };
    const putSupply = (body: object, headers: Record<string, string> = {}) =>
      fetch(`${base}/api/v1/supplies/north.ring-1`, {
        method: "PUT",
        headers: { ...json, ...headers },
        body: JSON.stringify(body),
      });
    expect((await putSupply(supply)).status).toBe(201);
    const drop = exampleStation({ cylinder: null, supply: "ring-1", regulator: null });
    expect((await put("north.bay-3", drop)).status).toBe(201);
    const bare = await putSupply(
      { ...supply, regulator: { stages: 1, deliveryBar: 8 } },
      { "if-match": '"1"' },
    );
    const problem = await problemOf(bare);
    expect(problem.type).toBe("/problems/dangerous-setup");
    expect(problem.faults?.map((fault) => fault.path)).toEqual(["bay-3: sensors.line.proofBar"]);
  });
});

describe("shared supplies", () => {
  it("feed several stations by one engine", async () => {
    const supply = {
      schema: 1,
      supply: "ring-1",
      site: "north",
      node: "n-00",
      kind: "bank",
      cylinder: exampleStation().cylinder,
      drops: ["bay-3", "bay-4"],
    };
    const saved = await fetch(`${base}/api/v1/supplies/north.ring-1`, {
      method: "PUT",
      headers: json,
      body: JSON.stringify(supply),
    });
    expect(saved.status).toBe(201);
    for (const [station, node] of [
      ["bay-3", "n-07"],
      ["bay-4", "n-08"],
    ]) {
      const drop = exampleStation({ station, node, cylinder: null, supply: "ring-1" });
      expect((await put(`north.${station}`, drop)).status).toBe(201);
    }
    expect(running.gateway.directory.engineKeys()).toEqual(["north/ring-1"]);
    const shrunk = await fetch(`${base}/api/v1/supplies/north.ring-1`, {
      method: "PUT",
      headers: { ...json, "if-match": '"1"' },
      body: JSON.stringify({ ...supply, drops: ["bay-3"] }),
    });
    expect((await problemOf(shrunk)).faults?.[0]?.path).toBe("drops");
    const packs = async (first: number, last: number) => {
      for (let seq = first; seq <= last; seq++) {
        const endS = t0 + 2 * seq;
        running.clock.goTo(endS + 0.2);
        for (const node of ["n-00", "n-07", "n-08"]) {
          await running.link.send(
            `leeward/v1/north/${node}/samples`,
            // A line without pressure is idle beyond doubt.
            examplePack({ endS, seq, node, linePa: () => 0 }),
          );
        }
      }
    };
    await packs(1, 20);
    const list = (await (await fetch(`${base}/api/v1/stations`)).json()) as StationList;
    expect(list.stations.map((one) => one.estimate?.t)).toEqual([t0 + 40, t0 + 40]);
    expect(list.unclaimed).toEqual([]);
    expect(running.gateway.live.counts.engineErrors).toBe(0);
    // One supply, one leak test: its gas is trapped for all of its stations.
    const start = (station: string, key: string) =>
      post(`north.${station}/leak-test`, { regulator: "shut" }, { "idempotency-key": key });
    expect((await start("bay-3", "l-1")).status).toBe(201);
    await packs(21, 30);
    const { estimate } = (await (
      await fetch(`${base}/api/v1/stations/north.bay-3`)
    ).json()) as StationView;
    expect(estimate?.leak.test?.phase).toBe("settling");
    const refused = await start("bay-4", "l-2");
    expect(refused.status).toBe(409);
    expect((await problemOf(refused)).detail).toContain("is under way");
  });

  it("that a description calls null are none: each station tests for leaks by itself", async () => {
    for (const [station, node] of [
      ["bay-3", "n-07"],
      ["bay-4", "n-08"],
    ] as const) {
      const alone = exampleStation({ station, node, supply: null });
      expect((await put(`north.${station}`, alone)).status).toBe(201);
    }
    const start = (station: string) =>
      post(`north.${station}/leak-test`, { regulator: "shut" }, { "idempotency-key": station });
    const packs = async (first: number, last: number) => {
      for (let seq = first; seq <= last; seq++) {
        const endS = t0 + 2 * seq;
        running.clock.goTo(endS + 0.2);
        for (const node of ["n-07", "n-08"]) {
          const pack = examplePack({ endS, seq, node, linePa: () => 0 });
          await running.link.send(`leeward/v1/north/${node}/samples`, pack);
        }
      }
    };
    await packs(1, 5);
    expect((await start("bay-3")).status).toBe(201);
    await packs(6, 10);
    expect((await start("bay-4")).status).toBe(201);
  });
});

describe("what people say", () => {
  it("counts once, however often it is sent", async () => {
    await put("north.bay-3", exampleStation());
    const key = { "idempotency-key": "a-1" };
    const answers = await Promise.all(
      [1, 2, 3].map(() => post("north.bay-3/reading", { reading: 8 }, key)),
    );
    expect(answers.map((one) => one.status)).toEqual([201, 201, 201]);
    const texts = await Promise.all(answers.map((one) => one.text()));
    expect(new Set(texts).size).toBe(1);
    const log = await running.store.readLog({ afterId: 0, of: null, limit: 10 });
    expect(log.filter((entry) => entry.kind === "person")).toHaveLength(1);
    const other = await post("north.bay-3/reading", { reading: 9 }, key);
    expect((await problemOf(other)).type).toBe("/problems/idempotency-key-reused");
    const none = await post("north.bay-3/reading", { reading: 9 });
    expect((await problemOf(none)).type).toBe("/problems/idempotency-key-required");
  });

  it.each([
    ["swap", {}, 201],
    ["swap", { filledBar: 200, filledC: 15, lot: "A1" }, 201],
    ["swap", { filledBar: -1 }, 422],
    ["swap", { colour: "green" }, 422],
    ["reading", { reading: 8.5 }, 201],
    ["reading", { reading: "eight" }, 422],
    ["purge", { boreMm: 100, lengthM: 6, volumes: 5 }, 201],
    ["purge", { minutes: 0 }, 422],
    ["job", { plannedArcMinutes: 20, starts: 4, welder: "K" }, 201],
    ["job", { gasless: "yes" }, 422],
  ])("a %s of %j is answered with its status", async (kind, body, status) => {
    await put("north.bay-3", exampleStation());
    const response = await post(`north.bay-3/${kind}`, body, { "idempotency-key": "k" });
    expect(response.status).toBe(status);
  });

  it("stands in the journal", async () => {
    await put("north.bay-3", exampleStation());
    await post("north.bay-3/swap", { lot: "A1" }, { "idempotency-key": "k" });
    const journal = (await (
      await fetch(`${base}/api/v1/journal?station=north.bay-3&from=${t0 - 60}`)
    ).json()) as { entries: { kind: string; station: string; detail: unknown }[] };
    expect(journal.entries[0]).toMatchObject({
      kind: "person-swap",
      station: "north.bay-3",
      detail: { swap: { lot: "A1" } },
    });
  });
});

describe("history", () => {
  it("answers at screen resolution, whatever the span", async () => {
    await liveStation();
    for (const [from, to, points] of [
      [t0, t0 + 600, 100],
      [t0 - 86_400, t0 + 600, 300],
      [t0 - 365 * 86_400, t0 + 600, 500],
    ] as const) {
      const response = await fetch(
        `${base}/api/v1/stations/north.bay-3/history?from=${from}&to=${to}&points=${points}`,
      );
      const history = (await response.json()) as History;
      const line = history.series["line-pressure"];
      expect(line?.unit).toBe("Pa");
      expect(line?.t.length).toBeGreaterThan(0);
      expect(line?.t.length).toBeLessThanOrEqual(points + 2);
      for (const value of line?.mean ?? [])
        if (value !== null) expect(value).toBeCloseTo(3.45e5, 3);
      expect(history.reference).toBe("metric20");
    }
  });

  it("lists gaps, and shows null there, never zero", async () => {
    await liveStation();
    running.clock.goTo(t0 + 1200);
    for (let seq = 400; seq < 430; seq++) {
      const endS = t0 + 1202 + 2 * (seq - 400);
      running.clock.goTo(endS);
      await running.link.send(samplesTopic, examplePack({ endS, seq }));
    }
    const url = `${base}/api/v1/stations/north.bay-3/history?from=${t0}&to=${t0 + 1260}&points=1260`;
    const history = (await (await fetch(url)).json()) as History;
    expect(history.gaps).toEqual([{ from: t0 + 600, to: t0 + 1201 }]);
    const line = history.series["line-pressure"]!;
    const nulls = line.t.filter((_, index) => line.mean[index] === null);
    expect(nulls).toHaveLength(1);
    expect(nulls[0]).toBeGreaterThan(t0 + 600);
    expect(nulls[0]).toBeLessThan(t0 + 1201);
    expect(line.t).toEqual([...line.t].sort((a, b) => a - b));
  });

  it("gives the series that are asked for, as among all of them, and the same gaps", async () => {
    await liveStation();
    const ask = async (more: string) => {
      const url = `${base}/api/v1/stations/north.bay-3/history?from=${t0}&to=${t0 + 600}&points=100`;
      return (await (await fetch(`${url}${more}`)).json()) as History;
    };
    const all = await ask("");
    const some = await ask("&series=line-pressure,flow");
    expect(Object.keys(some.series).sort()).toEqual(["flow", "line-pressure"]);
    expect(some.series["line-pressure"]).toEqual(all.series["line-pressure"]);
    expect(some.gaps).toEqual(all.gaps);
    expect(Object.keys(all.series).length).toBeGreaterThan(2);
  });

  it("refuses what makes no sense", async () => {
    await put("north.bay-3", exampleStation());
    for (const query of [
      "series=warmth",
      "series=",
      "from=yesterday",
      `from=${t0}&to=${t0 - 1}`,
      "points=0",
      "points=99999",
    ]) {
      const response = await fetch(`${base}/api/v1/stations/north.bay-3/history?${query}`);
      expect((await problemOf(response)).type).toBe("/problems/invalid-request");
    }
  });
});

describe("live events", () => {
  it("tell estimates and states as they come", async () => {
    await put("north.bay-3", exampleStation());
    const stop = new AbortController();
    whenOver(() => stop.abort());
    const response = await fetch(`${base}/api/v1/events`, { signal: stop.signal });
    expect(response.headers.get("content-type")).toContain("text/event-stream");
    expect(response.headers.get("x-content-type-options")).toBe("nosniff");
    let text = "";
    void (async () => {
      for await (const part of response.body!) text += Buffer.from(part).toString();
    })().catch(() => undefined);
    for (let seq = 1; seq <= 3; seq++) {
      running.clock.goTo(t0 + 2 * seq + 0.1);
      await running.link.send(samplesTopic, examplePack({ endS: t0 + 2 * seq, seq }));
    }
    await eventually(() => text.includes("event: estimate"), "an estimate");
    const data = /event: estimate\ndata: (.*)\n/.exec(text)?.[1] ?? "";
    expect(JSON.parse(data)).toMatchObject({
      id: "north.bay-3",
      estimate: { mode: expect.any(String) },
    });
    expect(text).toContain("event: status");
  });
});

describe("health and description", () => {
  it("says that it lives and is ready", async () => {
    expect(await (await fetch(`${base}/healthz`)).json()).toEqual({
      alive: true,
      version: "0.0.0",
    });
    const readiness = await fetch(`${base}/readyz`);
    expect(readiness.status).toBe(200);
    expect(await readiness.json()).toMatchObject({ ready: true, broker: true });
  });

  it("gives OpenMetrics", async () => {
    const response = await fetch(`${base}/metrics`);
    expect(response.headers.get("content-type")).toContain("application/openmetrics-text");
    const text = await response.text();
    expect(text).toContain("leeward_dead_letters 0");
    expect(text.trimEnd().endsWith("# EOF")).toBe(true);
  });

  it("gives OpenAPI 3.1 with every path and named schemas", async () => {
    const api = (await (await fetch(`${base}/api/v1/openapi.json`)).json()) as {
      openapi: string;
      paths: Record<string, Record<string, unknown>>;
      components: { schemas: Record<string, unknown> };
    };
    expect(api.openapi).toBe("3.1.0");
    for (const path of [
      "/api/v1/stations",
      "/api/v1/stations/{id}",
      "/api/v1/stations/{id}/history",
      "/api/v1/stations/{id}/swap",
      "/api/v1/stations/{id}/reading",
      "/api/v1/stations/{id}/purge",
      "/api/v1/stations/{id}/job",
      "/api/v1/supplies/{id}",
      "/api/v1/journal",
      "/api/v1/alarms",
      "/api/v1/dead-letters",
      "/api/v1/nodes/unclaimed",
      "/api/v1/events",
    ]) {
      expect(Object.keys(api.paths)).toContain(path);
    }
    expect(Object.keys(api.components.schemas)).toEqual(
      expect.arrayContaining(["Station", "StationList", "History", "Problem", "Journal"]),
    );
    expect(JSON.stringify(api)).not.toContain('$ref":"#/definitions');
  });

  it("lists dead letters", async () => {
    await running.link.send(samplesTopic, "[");
    const letters = (await (await fetch(`${base}/api/v1/dead-letters`)).json()) as {
      count: number;
      deadLetters: { reason: string }[];
    };
    expect(letters).toMatchObject({ count: 1, deadLetters: [{ reason: "not-json" }] });
  });

  it("says what is missing where the dashboard was not built", async () => {
    const response = await fetch(`${base}/floor`);
    expect(response.status).toBe(503);
    expect(await response.text()).toContain("npm run build");
  });
});

describe("keeping strangers out", () => {
  it("sends the security headers", async () => {
    const { headers } = await fetch(`${base}/api/v1/stations`);
    expect(headers.get("content-security-policy")).toContain("default-src 'self'");
    expect(headers.get("x-content-type-options")).toBe("nosniff");
    expect(headers.get("referrer-policy")).toBe("no-referrer");
    expect(headers.get("strict-transport-security")).toBeNull();
  });

  it("does not answer to a name that points here from elsewhere", async () => {
    const answer = await new Promise<string>((resolve, reject) => {
      const socket = connect(port, "127.0.0.1", () => {
        socket.write(
          "GET /api/v1/stations HTTP/1.1\r\nhost: evil.example\r\nconnection: close\r\n\r\n",
        );
      });
      let text = "";
      socket.on("data", (data) => {
        text += data.toString();
      });
      socket.on("end", () => resolve(text));
      socket.on("error", reject);
    });
    expect(answer).toContain("403");
    expect(answer).toContain("forbidden-origin");
  });

  it("does not let another page change anything", async () => {
    const response = await put("north.bay-3", exampleStation(), { "sec-fetch-site": "cross-site" });
    expect((await problemOf(response)).type).toBe("/problems/forbidden-origin");
  });
});
