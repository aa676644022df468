import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import { AlarmService } from "../../../gateway/alarms/alarm-service.ts";
import { createWallClock } from "../../../gateway/clock.ts";
import { createLogger } from "../../../gateway/log.ts";
import { notifySettingsSchema } from "../../../gateway/notify/settings.ts";
import { openSqliteStore } from "../../../gateway/store/open-sqlite.ts";
import { testCertificate } from "./test-certificate.ts";

/**
 * Runs alarms and delivery on a store until it is killed. Arguments: store file, SMTP port, `ring`
 * to raise an alarm first, and `no-delivery` to store it without starting to deliver.
 */
const [file = "", port = "0", ...words] = process.argv.slice(2);
const store = await openSqliteStore(file);
const clock = createWallClock();
const alarms = new AlarmService({
  store: store.alarms,
  outbox: store.outbox,
  facts: store,
  clock,
  log: createLogger("silent"),
  site: "north",
  timeZone: "UTC",
  station: () => null,
  supplyNode: () => null,
  publish: () => Promise.resolve(),
  trust: { ca: testCertificate },
});
await alarms.load();
await alarms.notifier.saveSettings(
  notifySettingsSchema.parse({
    contacts: [
      {
        id: "foreman",
        name: "Foreman",
        ways: [{ kind: "email", to: "foreman@boatyard.example" }],
      },
    ],
    chains: [{ priorities: ["high"], steps: [{ afterS: 0, contacts: ["foreman"] }] }],
    smtp: { host: "127.0.0.1", port: Number(port), from: "leeward@boatyard.example" },
  }),
);
if (!words.includes("no-delivery")) alarms.start();
if (words.includes("ring")) {
  const t = clock.nowS();
  const alarm = {
    condition: "arc-without-gas",
    priority: "high",
    since: t - 2,
    title: "STOP: welding without gas",
    advice: "Stop the arc.",
  };
  alarms.take("north", "bay-3", { t, alarms: [alarm], events: [] } as unknown as Estimate);
  await alarms.lifeCycle.settled();
}
process.stdout.write("stored\n");
setInterval(() => undefined, 1000);
