import { join } from "node:path";
import type { FastifyInstance } from "fastify";
import { beforeEach, describe, expect, it } from "vitest";
import { createHttpServer } from "../../../gateway/http/server.ts";
import { Enrolment } from "../../../gateway/nodes/enrolment.ts";
import { hashSecret, isSecret, updateKeyOf } from "../../../gateway/nodes/secrets.ts";
import { createMetrics } from "../../../gateway/run/metrics.ts";
import {
  quietLog,
  startTestGateway,
  type TestGateway,
  temporaryFolder,
  whenOver,
} from "../support.ts";

let running: TestGateway;
let app: FastifyInstance;

beforeEach(async () => {
  running = await startTestGateway();
  const { gateway, store, clock } = running;
  app = await createHttpServer(
    {
      version: "0.0.0",
      clock,
      store,
      alarms: gateway.alarms,
      directory: gateway.directory,
      service: gateway.service,
      bus: gateway.bus,
      site: { name: "North yard", timeZone: "UTC" },
      retention: { rawDays: 14, minuteDays: 400 },
      readiness: () => gateway.readiness(),
      metrics: createMetrics(gateway),
    },
    {
      dashboardDir: join(temporaryFolder(), "none"),
      log: quietLog,
      loopbackOnly: true,
      reach: { required: true, embedded: true, port: 1883 },
    },
  );
  whenOver(() => app.close());
});

function post(path: string, body: object | undefined, key?: string) {
  return app.inject({
    method: "POST",
    url: `/api/v1/nodes/${path}`,
    headers: {
      host: "localhost",
      ...(key === undefined ? {} : { authorization: `Bearer ${key}` }),
    },
    ...(body === undefined ? {} : { payload: body }),
  });
}

async function list() {
  const answer = await app.inject({
    url: "/api/v1/nodes/enrolled",
    headers: { host: "localhost" },
  });
  return { text: answer.body, json: answer.json<{ nodes: object[]; ownerSet: boolean }>() };
}

describe("enrolling over HTTP", () => {
  it("gives credentials and the node's file once, and keeps a hash alone", async () => {
    const place = { ssid: "shop", password: "long enough", host: "192.0.2.10", port: 1883 };
    const answer = await post("north.n-07/enrol", { place });
    expect(answer.statusCode).toBe(201);
    expect(answer.headers["cache-control"]).toBe("no-store");
    const made = answer.json<{ secret: string; code: string }>();
    expect(made).toMatchObject({
      id: "north.n-07",
      user: "north/n-07",
      provision: { site: "north", node: "n-07", user: "north/n-07", secret: made.secret, ...place },
    });
    expect(made.code.replaceAll("-", "")).toBe(`north/n07/${made.secret}`);
    const kept = await running.store.enrolments.get("north", "n-07");
    expect(kept?.secretHash).toBe(hashSecret(made.secret));
    expect(kept?.updateKey).toBe(updateKeyOf(made.secret));
    expect(JSON.stringify(kept)).not.toContain(made.secret);
    expect(isSecret(made.secret, kept?.secretHash ?? "")).toBe(true);
    const listed = await list();
    expect(listed.text).not.toContain(made.secret);
    expect(listed.text).not.toContain(kept?.updateKey);
    expect(listed.json).toMatchObject({
      nodes: [{ id: "north.n-07", revoked: null, lastLogin: null }],
      ownerSet: false,
      broker: { required: true, embedded: true, port: 1883 },
    });
    const journal = await running.store.journal({ from: 0, to: 4e9, limit: 9 });
    expect(journal.map((entry) => [entry.kind, entry.node])).toEqual([["node-enrolled", "n-07"]]);
    expect(JSON.stringify(journal)).not.toContain(made.secret);
  });

  it("issues again only where that is said, and revokes", async () => {
    const first = (await post("north.n-07/enrol", {})).json<{ secret: string }>();
    expect((await post("north.n-07/enrol", {})).statusCode).toBe(409);
    const again = await post("north.n-07/enrol", { again: true });
    expect(again.statusCode).toBe(201);
    expect(again.json<{ secret: string }>().secret).not.toBe(first.secret);
    expect((await post("north.n-07/revoke", undefined)).statusCode).toBe(204);
    expect((await post("north.n-07/revoke", undefined)).statusCode).toBe(409);
    expect((await post("north.n-99/revoke", undefined)).statusCode).toBe(409);
    expect((await list()).text).toMatch(/"revoked":"\d{4}-/);
    // A revoked node may be enrolled anew without more words.
    expect((await post("north.n-07/enrol", {})).statusCode).toBe(201);
  });

  it("takes the owner's key once there is an owner", async () => {
    const key = await new Enrolment(running.store.enrolments).makeOwner();
    const bare = await post("north.n-07/enrol", {});
    expect(bare.statusCode).toBe(401);
    expect(bare.headers["www-authenticate"]).toContain("Bearer");
    expect(bare.json()).toMatchObject({ type: "/problems/owner-key-required" });
    expect((await post("north.n-07/enrol", {}, "0".repeat(24))).statusCode).toBe(401);
    expect((await post("north.n-07/revoke", undefined, "")).statusCode).toBe(401);
    expect((await post("north.n-07/enrol", {}, key.toLowerCase())).statusCode).toBe(201);
    expect((await post("north.n-07/revoke", undefined, key)).statusCode).toBe(204);
    expect((await list()).json.ownerSet).toBe(true);
  });

  it.each([
    ["a name that cannot be", "north.N_7/enrol", {}, 404],
    ["no site", "n-07/enrol", {}, 404],
    [
      "a network's password that WPA2 refuses",
      "north.n-07/enrol",
      { place: { password: "short" } },
      422,
    ],
    [
      "a network's name that is too long",
      "north.n-07/enrol",
      { place: { ssid: "ä".repeat(17) } },
      422,
    ],
    ["an address with blanks", "north.n-07/enrol", { place: { host: "the gateway" } }, 422],
    ["TLS without an authority", "north.n-07/enrol", { place: { tls: true } }, 422],
    ["a member nobody knows", "north.n-07/enrol", { place: { wifi: "x" } }, 422],
  ])("%s is refused, and nothing is made", async (_what, path, body, status) => {
    const answer = await post(path, body);
    expect(answer.statusCode).toBe(status);
    expect(answer.json<{ detail: string }>().detail.length).toBeGreaterThan(10);
    expect((await list()).json.nodes).toEqual([]);
  });
});
