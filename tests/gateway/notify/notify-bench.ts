import { Agent } from "node:https";
import { join } from "node:path";
import { AlarmService } from "../../../gateway/alarms/alarm-service.ts";
import { type Clock, createWallClock } from "../../../gateway/clock.ts";
import type { Publish } from "../../../gateway/notify/channels/broker.ts";
import { notifySettingsSchema } from "../../../gateway/notify/settings.ts";
import { openSqliteStore } from "../../../gateway/store/open-sqlite.ts";
import { exampleStation, quickFolder, quietLog, whenOver } from "../support.ts";
import { testCertificate } from "./test-certificate.ts";

/** Settings with one contact, the foreman, on the ways given. */
export function settingsFor(ways: unknown[], change: Record<string, unknown> = {}) {
  return notifySettingsSchema.parse({
    contacts: [{ id: "foreman", name: "Foreman", ways }],
    chains: [{ priorities: ["high", "medium"], steps: [{ afterS: 0, contacts: ["foreman"] }] }],
    digestTo: ["foreman"],
    publicUrl: "https://leeward.boatyard.example",
    pushSubject: "mailto:owner@boatyard.example",
    ...change,
  });
}

export function smtpSettings(port: number) {
  return { host: "127.0.0.1", port, from: "Leeward <leeward@boatyard.example>" };
}

/** Alarms and delivery on a store, without engines: lines come by hand. */
export async function openAlarms(
  options: { file?: string; clock?: Clock; publish?: Publish; timeZone?: string } = {},
) {
  const file = options.file ?? join(quickFolder(), "store.sqlite");
  const store = await openSqliteStore(file);
  const clock = options.clock ?? createWallClock();
  const document = exampleStation({ name: "Slipway 2" });
  const alarms = new AlarmService({
    store: store.alarms,
    outbox: store.outbox,
    facts: store,
    clock,
    log: quietLog,
    site: "north",
    timeZone: options.timeZone ?? "UTC",
    station: (id) => (id === "north.bay-3" ? document : null),
    supplyNode: () => null,
    publish: options.publish ?? (() => Promise.reject(new Error("no broker"))),
    trust: { ca: testCertificate, agent: new Agent({ ca: testCertificate }) },
  });
  await alarms.load();
  let open = true;
  const stop = async () => {
    if (!open) return;
    open = false;
    await alarms.stop();
    await store.close();
  };
  whenOver(stop);
  return { alarms, store, clock, file, stop };
}

/** Waits until `done` gives something; fails after `limitMs`. */
export async function until<T>(
  done: () => T | null | undefined | false | Promise<T | null | undefined | false>,
  limitMs = 30_000,
): Promise<T> {
  const end = Date.now() + limitMs;
  for (;;) {
    const value = await done();
    if (value) return value;
    if (Date.now() > end) throw new Error("it did not happen in time");
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}
