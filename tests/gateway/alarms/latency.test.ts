import { expect, test } from "vitest";
import { settingsFor } from "../notify/notify-bench.ts";
import { startWebhookReceiver } from "../notify/receivers.ts";
import {
  eventually,
  examplePack,
  exampleStation,
  samplesTopic,
  startTestGateway,
  t0,
  temporaryFolder,
} from "../support.ts";

const secret = "a-secret-of-this-test-only";

test("from the pack that shows it: event stream < 1 s, first attempt of the outbox < 2 s", async () => {
  const { gateway, link, clock } = await startTestGateway({ folder: temporaryFolder() });
  await gateway.service.save(exampleStation(), null);
  const hook = await startWebhookReceiver(secret);
  await gateway.alarms.notifier.saveSettings(
    settingsFor([{ kind: "webhook", url: hook.url, secret }], {
      chains: [
        { priorities: ["high", "medium", "low"], steps: [{ afterS: 0, contacts: ["foreman"] }] },
      ],
    }),
  );
  let toldAt = 0;
  gateway.bus.on("alarm", () => {
    toldAt ||= performance.now();
  });
  const send = async (at: number, linePa?: number): Promise<void> => {
    clock.goTo(t0 + at);
    const pack = examplePack({ endS: t0 + at, seq: at });
    await link.send(
      samplesTopic,
      linePa === undefined
        ? pack
        : pack.map((record) =>
            (record as { n?: string }).n === "line-pressure" ? { ...record, v: linePa } : record,
          ),
    );
  };
  for (let at = 2; at <= 20; at += 2) await send(at);
  // A line at its limit is an alarm of safety: nothing holds its message back.
  let beganAt = 0;
  for (let at = 22; at <= 40 && toldAt === 0; at += 2) {
    beganAt = performance.now();
    await send(at, 9.5e5);
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  expect(toldAt).toBeGreaterThan(0);
  await eventually(() => hook.received[0], "the message");
  const toldMs = toldAt - beganAt;
  const attemptMs = performance.now() - beganAt;
  expect(toldMs).toBeLessThan(1000);
  expect(attemptMs).toBeLessThan(2000);
  console.log(`event stream ${toldMs.toFixed(0)} ms, first attempt ${attemptMs.toFixed(0)} ms`);
});
