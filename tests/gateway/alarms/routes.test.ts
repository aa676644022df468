import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import Fastify from "fastify";
import { serializerCompiler, validatorCompiler } from "fastify-type-provider-zod";
import { describe, expect, test } from "vitest";
import { alarmRoutes } from "../../../gateway/alarms/routes.ts";
import { ProblemError, problemBody } from "../../../gateway/http/problems.ts";
import { notifyRoutes } from "../../../gateway/notify/routes.ts";
import { openAlarms, settingsFor } from "../notify/notify-bench.ts";
import { HandClock, t0, whenOver } from "../support.ts";
import { alarm } from "./alarm-bench.ts";

async function openApi() {
  const clock = new HandClock();
  const bench = await openAlarms({ clock });
  const app = Fastify();
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);
  app.setErrorHandler((error, _request, reply) => {
    if (!(error instanceof ProblemError)) return reply.send(error);
    return reply.code(error.status).send(problemBody(error.kind, error.message, error.faults));
  });
  const { alarms, store } = bench;
  await app.register(alarmRoutes({ alarms, store: store.alarms, clock }));
  await app.register(notifyRoutes({ notifier: alarms.notifier, outbox: store.outbox, clock }));
  whenOver(() => app.close());
  const line = (at: number, ...conditions: string[]) => {
    const t = t0 + at;
    clock.goTo(t);
    const list = conditions.map((condition) => alarm(condition));
    alarms.take("north", "bay-3", { t, alarms: list, events: [] } as unknown as Estimate);
  };
  const call = async (method: "GET" | "POST" | "PUT" | "DELETE", url: string, payload?: object) => {
    const response = await app.inject({ method, url, ...(payload ? { payload } : {}) });
    return { status: response.statusCode, body: response.body === "" ? null : response.json() };
  };
  /** How often anything rang so far. */
  const rang = async () => {
    const { entries } = (await call("GET", "/alarms/journal")).body;
    return entries.filter((entry: { kind: string }) => entry.kind === "rang").length;
  };
  return { ...bench, line, call, rang };
}

describe("the alarm API", () => {
  test("lists, acknowledges, shelves and brings back", async () => {
    const { line, call } = await openApi();
    line(0, "under-shielding");
    const { alarms } = (await call("GET", "/alarms")).body;
    expect(alarms).toHaveLength(1);
    expect(alarms[0]).toMatchObject({
      station: "north.bay-3",
      condition: "under-shielding",
      state: "unacknowledged",
      active: true,
      since: "2025-11-25T07:59:50.000Z",
      shelveLimitMin: 480,
    });
    const path = `/alarms/${alarms[0].id}`;
    const acknowledged = await call("POST", `${path}/acknowledge`, { by: "Ada", note: "on it" });
    expect(acknowledged).toMatchObject({
      status: 200,
      body: {
        state: "acknowledged",
        acknowledged: { at: "2025-11-25T08:00:00.000Z", by: "Ada", note: "on it" },
      },
    });
    expect((await call("POST", `${path}/acknowledge`, { by: "Ben" })).status).toBe(409);
    const shelved = await call("POST", `${path}/shelve`, { by: "Ada", minutes: 30 });
    expect(shelved.body).toMatchObject({
      state: "shelved",
      shelf: { kind: "shelved", until: "2025-11-25T08:30:00.000Z", by: "Ada" },
    });
    expect((await call("POST", `${path}/unshelve`, { by: "Ada" })).body.state).toBe(
      "unacknowledged",
    );
    expect(
      (await call("POST", `${path}/out-of-service`, { by: "Ada", note: "apart" })).body.state,
    ).toBe("out-of-service");
    const journal = (await call("GET", "/alarms/journal")).body.entries;
    expect(journal.map((entry: { kind: string }) => entry.kind)).toEqual([
      "out-of-service",
      "rang",
      "unshelved",
      "shelved",
      "acknowledged",
      "rang",
      "raised",
    ]);
  });
  test("what was put away shows once its alarm has gone, and comes back by station and condition", async () => {
    const { line, call, alarms, rang } = await openApi();
    line(0, "leak");
    const { id } = (await call("GET", "/alarms")).body.alarms[0];
    await call("POST", `/alarms/${id}/out-of-service`, { by: "Ada", note: "hose apart" });
    // While an alarm of it stands, the alarm itself says so.
    expect((await call("GET", "/alarms")).body.putAway).toEqual([]);
    line(10);
    await call("POST", `/alarms/${id}/acknowledge`, { by: "Ada" });
    const { body } = await call("GET", "/alarms");
    expect(body.alarms).toEqual([]);
    expect(body.putAway).toEqual([
      {
        site: "north",
        station: "north.bay-3",
        condition: "leak",
        kind: "out-of-service",
        since: "2025-11-25T08:00:00.000Z",
        until: null,
        by: "Ada",
        note: "hose apart",
      },
    ]);
    expect((await call("GET", "/alarms?state=shelved")).body.putAway).toEqual([]);
    expect((await call("GET", "/alarms?state=out-of-service")).body.putAway).toHaveLength(1);
    expect((await call("POST", `/alarms/${id}/unshelve`, { by: "Ben" })).status).toBe(404);

    const part = { site: "north", station: "north.bay-3", condition: "leak", by: "Ben" };
    const other = await call("POST", "/alarms/put-back", { ...part, station: "north.bay-4" });
    expect(other.status).toBe(404);
    const back = await call("POST", "/alarms/put-back", part);
    expect(back).toEqual({ status: 200, body: { alarms: [], putAway: [] } });
    expect((await call("POST", "/alarms/put-back", part)).status).toBe(404);
    const rung = await rang();
    line(20, "leak");
    await alarms.lifeCycle.settled();
    expect((await call("GET", "/alarms")).body.alarms[0].state).toBe("unacknowledged");
    expect(await rang()).toBe(rung + 1);
    const { entries } = (await call("GET", "/alarms/journal")).body;
    expect(entries).toContainEqual(
      expect.objectContaining({ kind: "in-service", station: "north.bay-3", by: "Ben" }),
    );
  });
  test("says what is wrong with a request", async () => {
    const { line, call } = await openApi();
    line(0, "leak");
    const { id } = (await call("GET", "/alarms")).body.alarms[0];
    const unacknowledged = (await call("GET", "/alarms?state=unacknowledged")).body.alarms;
    expect(unacknowledged.map((one: { id: string }) => one.id)).toEqual([id]);
    expect((await call("GET", "/alarms?state=shelved")).body).toEqual({
      alarms: [],
      putAway: [],
    });
    expect((await call("GET", "/alarms?state=loud")).status).toBeGreaterThanOrEqual(400);
    expect(await call("POST", "/alarms/none/acknowledge", { by: "Ada" })).toMatchObject({
      status: 404,
    });
    expect(await call("POST", `/alarms/${id}/acknowledge`, { by: "  " })).toMatchObject({
      status: 400,
    });
    expect(await call("POST", `/alarms/${id}/shelve`, { by: "Ada", minutes: 90 })).toMatchObject({
      status: 422,
      body: { faults: [{ path: "body.minutes", message: expect.stringContaining("1 to 60") }] },
    });
  });
  test("measures itself", async () => {
    const { line, call } = await openApi();
    line(0, "under-shielding");
    await call("GET", "/alarms");
    expect((await call("GET", "/alarms/measures?days=1")).body).toMatchObject({
      raised: 1,
      standing: 1,
      benchmarks: expect.any(Array),
    });
  });
});

describe("the delivery API", () => {
  const secret = "a-secret-of-this-test-only";
  const hook = { kind: "webhook", url: "https://hook.example/x", secret };
  test("never shows a secret, and keeps it when the mask comes back", async () => {
    const { call, alarms } = await openApi();
    expect((await call("PUT", "/notify", settingsFor([hook]))).status).toBe(200);
    const shown = (await call("GET", "/notify")).body.settings;
    expect(JSON.stringify(shown)).not.toContain(secret);
    expect((await call("PUT", "/notify", shown)).status).toBe(200);
    expect(alarms.notifier.settings.contacts[0]?.ways[0]).toMatchObject({ secret });
    shown.contacts[0].ways[0].url = "https://elsewhere.example/x";
    expect((await call("PUT", "/notify", shown)).status).toBe(422);
  });
  test("names every fault of the settings", async () => {
    const { call } = await openApi();
    const answer = await call("PUT", "/notify", { contacts: [], chains: [{}], digestAt: "7" });
    expect(answer.status).toBe(422);
    expect(answer.body.faults.map((fault: { path: string }) => fault.path)).toEqual(
      expect.arrayContaining(["chains.0.priorities", "chains.0.steps", "digestAt"]),
    );
  });
  test("subscribes browsers of known contacts over https only", async () => {
    const { call, store } = await openApi();
    await call("PUT", "/notify", settingsFor([{ kind: "push" }]));
    const keys = { p256dh: "B".repeat(87), auth: "A".repeat(22) };
    const post = (contact: string, endpoint: string) =>
      call("POST", "/notify/subscriptions", { contact, endpoint, keys });
    expect((await post("foreman", "http://push.example/1")).status).toBe(400);
    expect((await post("stranger", "https://push.example/1")).status).toBe(404);
    const { status, body } = await post("foreman", "https://push.example/1");
    expect(status).toBe(201);
    expect(await store.outbox.subscriptions()).toHaveLength(1);
    expect((await call("DELETE", `/notify/subscriptions/${body.id}`)).status).toBe(204);
    expect(await store.outbox.subscriptions()).toEqual([]);
    expect((await call("GET", "/notify/push-key")).body.publicKey.length).toBe(87);
  });
  test("a test shows in the outbox", async () => {
    const { call } = await openApi();
    await call("PUT", "/notify", settingsFor([hook]));
    expect((await call("POST", "/notify/test", { contact: "nobody" })).status).toBe(404);
    const { status, body } = await call("POST", "/notify/test", { contact: "foreman" });
    expect(status).toBe(202);
    const { messages } = (await call("GET", `/notify/outbox?id=${encodeURIComponent(body.ids[0])}`))
      .body;
    expect(messages).toMatchObject([{ kind: "test", contact: "foreman", state: "waiting" }]);
  });
});
