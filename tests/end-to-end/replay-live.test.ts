import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type {
  EngineOptions,
  StationLine,
  SupplyEngine,
  SupplySetup,
} from "@leeward/shared-core/estimation/engine.ts";
import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import { describe, expect, it } from "vitest";
import { main } from "../../gateway/cli/main.ts";
import { exportStation } from "../../gateway/live/export.ts";
import type { EngineFactory } from "../../gateway/live/supply-runner.ts";
import type { GatewayStore } from "../../gateway/store/store.ts";
import { createVirtualShop } from "../../gateway/virtual-shop/virtual-shop.ts";
import {
  HandClock,
  quickFolder,
  realEngines,
  startTestGateway,
  type TestGateway,
  t0,
  temporaryFolder,
} from "../gateway/support.ts";

/** Engines whose every line is written down, by station and time. */
function recordedEngines(lines: Map<string, Map<number, Estimate>>): EngineFactory {
  const record = (engine: SupplyEngine): SupplyEngine => {
    const note = (out: StationLine[]) => {
      for (const { station, estimate } of out) {
        const ofStation = lines.get(station) ?? new Map<number, Estimate>();
        lines.set(station, ofStation);
        const before = ofStation.get(estimate.t);
        // After a crash an engine says again what it had said; it must say the same.
        if (before) expect(estimate).toEqual(before);
        ofStation.set(estimate.t, structuredClone(estimate));
      }
      return out;
    };
    return {
      receive: (item) => note(engine.receive(item)),
      advance: (nowS) => note(engine.advance(nowS)),
      serialise: () => engine.serialise(),
    };
  };
  return {
    create: (setup: SupplySetup, options: EngineOptions) =>
      record(realEngines.create(setup, options)),
    restore: (text: string) => record(realEngines.restore(text)),
  };
}

/** Exports a station, replays it by the command line, and returns the lines. */
async function replay(store: GatewayStore, id: string): Promise<Estimate[]> {
  const exported = await exportStation(store, id, {});
  if (!exported) throw new Error(`nothing exported of ${id}`);
  const folder = join(temporaryFolder(), id);
  mkdirSync(folder);
  for (const { name, json } of exported.documents) {
    writeFileSync(join(folder, name), JSON.stringify(json));
  }
  const samples = join(folder, "samples.ndjson");
  writeFileSync(samples, exported.lines.map((line) => `${JSON.stringify(line)}\n`).join(""));
  let out = "";
  let errors = "";
  const code = await main(
    ["replay", "--station", join(folder, "station.json"), "--samples", samples, "--every", "1"],
    {
      stdin: process.stdin,
      out: (text) => {
        out += text;
      },
      error: (text) => {
        errors += text;
      },
      environment: {},
    },
  );
  expect(errors).toBe("");
  expect(code).toBe(0);
  return out
    .trimEnd()
    .split("\n")
    .map((line) => JSON.parse(line) as Estimate);
}

describe("replay of a recorded stretch of the demo", () => {
  it("gives every line of the live gateway again, through a stop, a crash and a new description", {
    timeout: 150_000,
  }, async () => {
    const hours = 0.45;
    const presentS = t0 + hours * 3600;
    const lines = new Map<string, Map<number, Estimate>>();
    const factory = recordedEngines(lines);
    const folder = quickFolder();
    const shop = createVirtualShop({
      clock: new HandClock(presentS),
      brokerUrl: "mqtt://127.0.0.1:1",
      pastHours: 3.5,
    });
    const clock = new HandClock(t0);
    let running: TestGateway = await startTestGateway({ folder, clock, factory });
    for (const station of shop.stations) {
      const saved = await running.gateway.service.save(station, null);
      expect(saved.ok).toBe(true);
    }
    let messages = 0;
    const waiting = new Set<Promise<void>>();
    /** What else happens, by the clock. */
    const plot: { atS: number; act: () => Promise<void> }[] = [
      {
        // Stopped in good order, and started again ten seconds later.
        atS: t0 + 600,
        act: async () => {
          await running.stop();
          clock.goTo(clock.nowS() + 10);
          running = await startTestGateway({ folder, clock, factory });
        },
      },
      {
        atS: t0 + 1000,
        act: async () => {
          const record = running.gateway.directory.station("boatyard.slipway");
          if (!record) throw new Error("no slipway");
          await running.gateway.service.say(record, { reading: 14 });
          const changed = { ...record.document, changeover: { minutes: 25 } };
          expect((await running.gateway.service.save(changed, record.version)).ok).toBe(true);
        },
      },
      {
        // A crash: nothing is saved, what was acknowledged is in the store.
        atS: t0 + 1500,
        act: async () => {
          await running.crash();
          running = await startTestGateway({ folder, clock, factory });
        },
      },
    ];
    await shop.preAge({
      hours,
      deliver: async (topic, payload, receivedS) => {
        while (plot[0] && plot[0].atS <= receivedS) {
          await Promise.all(waiting);
          await plot.shift()!.act();
        }
        clock.goTo(Math.max(receivedS, clock.nowS()));
        messages++;
        const sent = running.link.send(topic, payload).finally(() => waiting.delete(sent));
        waiting.add(sent);
        if (waiting.size > 50) await Promise.all(waiting);
      },
      person: async (station, entry) => {
        const record = running.gateway.directory.station(`boatyard.${station}`);
        if (record) await running.gateway.service.say(record, entry);
      },
    });
    await Promise.all(waiting);
    expect(plot).toEqual([]);
    expect(messages).toBeGreaterThan(1000);
    await running.gateway.ingest.tick();
    expect(running.gateway.live.counts.engineErrors).toBe(0);

    let compared = 0;
    for (const { station } of shop.stations) {
      const live = [...(lines.get(station) ?? new Map<number, Estimate>()).values()].sort(
        (a, b) => a.t - b.t,
      );
      const replayed = await replay(running.store, `boatyard.${station}`);
      expect(replayed.length).toBeGreaterThan(1000);
      // Passing time alone may have let the live engine say more after the last message.
      expect(live.length - replayed.length).toBeLessThan(3);
      for (const [index, line] of replayed.entries()) {
        expect(JSON.parse(JSON.stringify(live[index]))).toEqual(line);
        compared++;
      }
    }
    console.log(
      `compared ${compared} lines of ${shop.stations.length} stations, ${messages} messages`,
    );
    expect(compared).toBeGreaterThan(6000);
  });
});
