import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import { describe, expect, test } from "vitest";
import { alarm } from "../alarms/alarm-bench.ts";
import { HandClock, t0 } from "../support.ts";
import { openAlarms, settingsFor, until } from "./notify-bench.ts";
import { startWebhookReceiver } from "./receivers.ts";

const secret = "a-secret-of-this-test-only";

/** A bench with a webhook for the foreman and, as a contact of later steps, one for the owner. */
async function opened(change: Record<string, unknown> = {}) {
  const foreman = await startWebhookReceiver(secret);
  const owner = await startWebhookReceiver(secret);
  const way = (url: string) => ({ kind: "webhook", url, secret });
  const clock = new HandClock(t0);
  const bench = await openAlarms({ clock });
  await bench.alarms.notifier.saveSettings(
    settingsFor([], {
      contacts: [
        { id: "foreman", name: "Foreman", ways: [way(foreman.url)] },
        { id: "owner", name: "Owner", ways: [way(owner.url)] },
      ],
      digestAt: null,
      ...change,
    }),
  );
  bench.alarms.start();
  /** A line at `t0 + s`, and what falls due until then. */
  const at = async (s: number, ...conditions: string[]) => {
    clock.leapTo(t0 + s);
    const alarms = conditions.map((condition) => alarm(condition, { priority: "medium" }));
    const line = { t: t0 + s, alarms, events: [] } as unknown as Estimate;
    bench.alarms.take("north", "bay-3", line);
    await bench.alarms.lifeCycle.settled();
  };
  const conditionsOf = (hook: typeof foreman) =>
    hook.received.map((one) => (one.event.data as { condition: string }).condition);
  const settled = (count: number) =>
    until(async () => {
      const rows = await bench.store.outbox.list({ limit: 50 });
      return rows.filter((one) => one.state === "delivered").length === count;
    });
  return { ...bench, at, clock, foreman, owner, conditionsOf, settled };
}

const escalation = {
  chains: [
    {
      priorities: ["high", "medium"],
      steps: [
        { afterS: 0, contacts: ["foreman"] },
        { afterS: 120, contacts: ["owner"] },
      ],
    },
  ],
};
/** 08:00 UTC it is. */
const quietTill0830 = { quietHours: { from: "07:00", to: "08:30" } };

describe("an alarm that goes once and comes back", () => {
  test("a node silent for 10 s, back, and silent for good: it is heard", async () => {
    const { at, foreman, conditionsOf } = await opened();
    await at(10, "node-silent");
    await at(20);
    await at(60, "node-silent");
    await at(100, "node-silent");
    await until(() => foreman.received[0]);
    expect(conditionsOf(foreman)).toEqual(["node-silent"]);
  });
  test("one flicker before the second step: the owner hears of it at the old time, the foreman once", async () => {
    const { at, clock, foreman, owner, settled } = await opened(escalation);
    await at(10, "under-shielding");
    await until(() => foreman.received[0]);
    await settled(1);
    await at(60);
    await at(80, "under-shielding");
    await at(129, "under-shielding");
    expect(owner.received).toHaveLength(0);
    await at(131, "under-shielding");
    await until(() => owner.received[0]);
    await settled(2);
    await at(800, "under-shielding");
    clock.leapTo(t0 + 2400);
    expect([foreman.received.length, owner.received.length]).toEqual([1, 1]);
  });
  test("raised in quiet hours, gone for a minute: it stands in the morning, and is heard then", async () => {
    const { at, foreman, conditionsOf } = await opened(quietTill0830);
    await at(10, "runs-out-soon");
    await at(60);
    await at(120, "runs-out-soon");
    await at(1790, "runs-out-soon");
    expect(foreman.received).toHaveLength(0);
    await at(1801, "runs-out-soon");
    await until(() => foreman.received[0]);
    expect(conditionsOf(foreman)).toEqual(["runs-out-soon"]);
  });
  test("explained by a silent node while it waits, then on its own again: it is heard", async () => {
    const { at, foreman, conditionsOf } = await opened();
    await at(10, "sensor-fault");
    await at(20, "node-silent");
    await at(35, "sensor-fault");
    await at(60, "sensor-fault");
    await until(() => foreman.received[0]);
    expect(conditionsOf(foreman)).toEqual(["sensor-fault"]);
  });
});
