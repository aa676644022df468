import { alarmConditions } from "@leeward/shared-core/alarms/index.ts";
import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import Fastify from "fastify";
import { serializerCompiler, validatorCompiler } from "fastify-type-provider-zod";
import { describe, expect, test } from "vitest";
import { ProblemError, problemBody } from "../../../gateway/http/problems.ts";
import { alarmFactRoutes } from "../../../gateway/http/routes/alarm-facts.ts";
import { alarm } from "../alarms/alarm-bench.ts";
import { openAlarms } from "../notify/notify-bench.ts";
import { HandClock, t0, whenOver } from "../support.ts";

async function openApi() {
  const clock = new HandClock();
  const { alarms, store } = await openAlarms({ clock });
  const app = Fastify({ routerOptions: { maxParamLength: 200 } });
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);
  app.setErrorHandler((error, _request, reply) => {
    if (!(error instanceof ProblemError)) return reply.send(error);
    return reply.code(error.status).send(problemBody(error.kind, error.message, error.faults));
  });
  await app.register(alarmFactRoutes({ alarms, store: store.alarms }));
  whenOver(() => app.close());
  const line = (at: number, ...conditions: string[]) => {
    clock.goTo(t0 + at);
    const list = conditions.map((condition) => alarm(condition, { priority: "low" }));
    const estimate = { t: t0 + at, alarms: list, events: [] } as unknown as Estimate;
    alarms.take("north", "bay-3", estimate);
    return alarms.lifeCycle.settled();
  };
  const get = async (url: string) => {
    const response = await app.inject({ method: "GET", url });
    return { status: response.statusCode, body: response.json() };
  };
  return { alarms, line, get };
}

describe("what stands behind an alarm", () => {
  test("every condition with its cause, consequence, action and time", async () => {
    const { get } = await openApi();
    const { body } = await get("/alarms/conditions");
    expect(body.conditions.map((one: { condition: string }) => one.condition)).toEqual(
      alarmConditions.map((one) => one.condition),
    );
    for (const one of body.conditions) {
      expect(one.cause.length * one.consequence.length * one.operatorAction.length).toBeGreaterThan(
        0,
      );
      expect([60, 480]).toContain(one.shelveLimitMin);
    }
  });

  test("an occurrence that stands, and the same when it is over, with its journal", async () => {
    const { alarms, line, get } = await openApi();
    await line(0, "cylinder-low");
    const id = alarms.lifeCycle.list()[0]?.id ?? "";
    const standing = await get(`/alarms/${encodeURIComponent(id)}`);
    expect(standing.body.alarm).toMatchObject({ id, state: "unacknowledged", active: true });
    await alarms.lifeCycle.acknowledge(id, "Ada", "a full one is here", t0 + 5);
    await line(10);
    const over = await get(`/alarms/${encodeURIComponent(id)}`);
    expect(over.body.alarm).toMatchObject({ id, state: "normal", active: false });
    expect(over.body.journal.map((one: { kind: string }) => one.kind)).toEqual([
      "returned",
      "acknowledged",
      "rang",
      "raised",
    ]);
    expect(over.body.journal[1]).toMatchObject({ by: "Ada", note: "a full one is here" });
  });

  test("one that never was is a 404", async () => {
    const { get } = await openApi();
    expect((await get("/alarms/north.bay-3~leak~abc")).status).toBe(404);
  });
});
