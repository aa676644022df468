import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { createHttpServer } from "../../../gateway/http/server.ts";
import { createMetrics } from "../../../gateway/run/metrics.ts";
import { quietLog, startTestGateway, temporaryFolder, whenOver } from "../support.ts";

describe("the built dashboard", () => {
  it("is served, each of its pages, and nothing outside its folder", async () => {
    const folder = temporaryFolder();
    const dashboardDir = join(folder, "dist");
    mkdirSync(join(dashboardDir, "assets"), { recursive: true });
    writeFileSync(join(dashboardDir, "index.html"), "<!doctype html><title>Floor</title>");
    writeFileSync(join(dashboardDir, "assets", "app-1a2b.js"), "export {};");
    writeFileSync(join(folder, "secret.txt"), "keep out");
    const { gateway, store, clock } = await startTestGateway();
    const app = await createHttpServer(
      {
        version: "0.0.0",
        clock,
        store,
        alarms: gateway.alarms,
        directory: gateway.directory,
        service: gateway.service,
        bus: gateway.bus,
        site: { name: "North", timeZone: "UTC" },
        retention: { rawDays: 14, minuteDays: 400 },
        readiness: () => gateway.readiness(),
        metrics: createMetrics(gateway),
      },
      { dashboardDir, log: quietLog, loopbackOnly: true },
    );
    whenOver(() => app.close());
    const get = (url: string) => app.inject({ url, headers: { host: "localhost" } });
    for (const page of ["/", "/floor", "/station/north.bay-3"]) {
      const answer = await get(page);
      expect(answer.statusCode).toBe(200);
      expect(answer.body).toContain("<title>Floor</title>");
      expect(answer.headers["cache-control"]).toBe("no-cache");
    }
    // What messages link to: an alarm, and the digest all of them.
    expect((await get("/alarms/north.bay-3~leak~abc")).headers.location).toBe(
      "../#/alarms/north.bay-3~leak~abc",
    );
    expect((await get("/alarms")).headers.location).toBe("./#/alarms");
    const asset = await get("/assets/app-1a2b.js");
    expect(asset.headers["cache-control"]).toContain("immutable");
    expect(asset.headers["content-type"]).toContain("javascript");
    for (const path of ["/assets/missing.js", "/../secret.txt", "/%2e%2e/secret.txt"]) {
      const answer = await get(path);
      expect(answer.body).not.toContain("keep out");
      expect(answer.statusCode).toBeGreaterThanOrEqual(400);
    }
  });
});
