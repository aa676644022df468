import { join } from "node:path";
import type { BenchTestDocument } from "@leeward/shared-core/bench/bench-test-document.ts";
import Fastify, { type FastifyInstance } from "fastify";
import { serializerCompiler, validatorCompiler } from "fastify-type-provider-zod";
import { beforeEach, expect, it } from "vitest";
import { benchRoutes } from "../../../gateway/bench/routes.ts";
import { ProblemError } from "../../../gateway/http/problems.ts";
import { openSqliteStore } from "../../../gateway/store/open-sqlite.ts";
import type { GatewayStore } from "../../../gateway/store/store.ts";
import { exampleStation, HandClock, t0, temporaryFolder, whenOver } from "../support.ts";

let app: FastifyInstance;
let folder: string;
let store: GatewayStore;

const test: BenchTestDocument = {
  schema: 1,
  name: "Tube on slipway 2",
  station: "north.bay-3",
  csv: "cylinder_bar,line_bar,indicated,true_lpm,true_u_percent,action\n150,3.4,8,7.6,1.5,set\n100,3.3,8,7.5,1.5,redialled\n30,3.1,8,7.4,1.5,redialled\n",
  serial: "T-17",
  date: "2025-11-25",
  meter: "thermal meter, certificate 4711",
  targetLpm: 8,
  restBar: null,
  flowingBar: null,
  price: null,
};

beforeEach(async () => {
  folder = temporaryFolder();
  store = await openSqliteStore(join(folder, "bench.sqlite"));
  whenOver(() => store.close());
  app = Fastify();
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);
  app.setErrorHandler((error, _request, reply) =>
    reply
      .code(error instanceof ProblemError ? error.status : 422)
      .type("application/problem+json")
      .send(JSON.stringify({ detail: String(error) })),
  );
  const station = exampleStation();
  await app.register(
    benchRoutes({
      bench: store.bench,
      clock: new HandClock(),
      station: (id) => (id === "north.bay-3" ? station : null),
    }),
  );
  whenOver(() => app.close());
});

const put = (id: string, body: unknown, version?: number) =>
  app.inject({
    method: "PUT",
    url: `/bench/tests/${id}`,
    payload: body as object,
    headers: version === undefined ? {} : { "if-match": `"${version}"` },
  });

it("keeps every version of a test, and refuses to overwrite one that was not seen", async () => {
  expect((await put("tube-1", test)).json()).toMatchObject({
    version: 1,
    saved: new Date(t0 * 1000).toISOString(),
  });
  expect((await put("tube-1", { ...test, name: "Other" })).statusCode).toBe(412);
  expect((await put("tube-1", { ...test, name: "Second" }, 1)).json()).toMatchObject({
    version: 2,
  });
  expect((await put("tube-1", { ...test, name: "Late" }, 1)).statusCode).toBe(412);
  const list = (await app.inject("/bench/tests")).json();
  expect(list.tests).toHaveLength(1);
  expect(list.tests[0]).toMatchObject({ id: "tube-1", version: 2, test: { name: "Second" } });
  const versions = (await app.inject("/bench/tests/tube-1/versions")).json();
  expect(versions.tests.map((one: { test: { name: string } }) => one.test.name)).toEqual([
    "Second",
    test.name,
  ]);
});

it("keeps tests over a restart of the store", async () => {
  await put("tube-1", test);
  const again = await openSqliteStore(join(folder, "bench.sqlite"));
  expect((await again.bench.list()).map((one) => one.test)).toEqual([test]);
  await again.close();
});

it("refuses a test with faults, and an unknown one", async () => {
  expect((await put("tube-1", { ...test, targetLpm: -1 })).statusCode).toBe(422);
  expect((await app.inject("/bench/tests/none/versions")).statusCode).toBe(404);
});

it("gives the card as a PDF, and a reason where there can be none", async () => {
  const card = (payload: object) => app.inject({ method: "POST", url: "/bench/card", payload });
  const made = await card({ test, stationUrl: "http://127.0.0.1:8080/#/station/north.bay-3" });
  expect(made.statusCode).toBe(200);
  expect(made.headers["content-type"]).toBe("application/pdf");
  expect(made.rawPayload.subarray(0, 5).toString()).toBe("%PDF-");
  const german = await card({ test, language: "de", decimal: "," });
  expect(german.statusCode).toBe(200);
  expect(german.rawPayload.equals(made.rawPayload)).toBe(false);
  expect((await card({ test, language: "xx" })).statusCode).not.toBe(200);
  expect((await card({ test: { ...test, station: "north.gone" } })).statusCode).toBe(404);
  const empty = await card({ test: { ...test, csv: "a,b\n1,2\n" } });
  expect(empty.statusCode).toBe(422);
  expect(empty.json().detail).toContain("cylinder_bar");
});
