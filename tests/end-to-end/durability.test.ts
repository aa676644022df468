import { connectAsync } from "mqtt";
import { describe, expect, it } from "vitest";
import { openSqliteStore } from "../../gateway/store/open-sqlite.ts";
import {
  eventually,
  examplePack,
  samplesTopic,
  temporaryFolder,
  whenOver,
} from "../gateway/support.ts";
import { mosquittoPub, startMosquitto } from "./mosquitto.ts";
import { ready, runGateway } from "./program.ts";

/** Packs on their way at a time: the broker is never further ahead of who counts what it acknowledged. */
const atOnce = 400;

/** Sends numbered packs as fast as they are acknowledged, and notes what was. */
async function sendPacks(broker: string, acknowledged: Set<number>, count: number) {
  const client = await connectAsync(broker, { protocolVersion: 4, reconnectPeriod: 0 });
  client.on("error", () => undefined);
  whenOver(() => client.end(true));
  const nowS = Math.floor(Date.now() / 1000) - 2 * count;
  let last = 0;
  const send = () => {
    if (last === count) return;
    last++;
    const seq = last;
    const payload = JSON.stringify(examplePack({ endS: nowS + 2 * seq, seq }));
    client.publish(samplesTopic, payload, { qos: 1 }, (error) => {
      if (error) return;
      acknowledged.add(seq);
      send();
    });
  };
  for (let k = 0; k < atOnce; k++) send();
}

async function storedNumbers(folder: string): Promise<Set<number>> {
  const store = await openSqliteStore(`${folder}/leeward.sqlite`);
  try {
    return new Set(await store.storedSequence("north/n-07", 1, 0));
  } finally {
    await store.close();
  }
}

describe("SIGKILL", () => {
  it("between receipt and commit loses nothing that was acknowledged", {
    timeout: 90_000,
  }, async () => {
    const folder = temporaryFolder();
    const run = await runGateway(folder);
    await ready(run);
    const acknowledged = new Set<number>();
    await sendPacks(run.broker, acknowledged, 3000);
    await eventually(() => acknowledged.size > 150, "some are acknowledged", 30_000);
    run.child.kill("SIGKILL");
    expect(await run.ended).toBe("SIGKILL");
    const before = acknowledged.size;
    expect(before).toBeLessThan(3000);
    const stored = await storedNumbers(folder);
    for (const seq of acknowledged) expect(stored.has(seq)).toBe(true);
    console.log(`${before} acknowledged, ${stored.size} stored, none lost`);
  });

  it("leaves what the gateway had not acknowledged with the broker, for whoever comes next", {
    timeout: 90_000,
  }, async () => {
    const mosquitto = await startMosquitto();
    const folder = temporaryFolder();
    const first = await runGateway(folder, ["--no-virtual", "--broker-url", mosquitto.url]);
    await ready(first);
    const acknowledged = new Set<number>();
    await sendPacks(mosquitto.url, acknowledged, 600);
    await eventually(async () => acknowledged.size > 100, "some reach the broker", 30_000);
    first.child.kill("SIGKILL");
    await first.ended;
    // Sent while no gateway is there: the session's queue keeps it.
    await eventually(() => acknowledged.size === 600, "the broker takes the rest", 30_000);
    const nowS = Math.floor(Date.now() / 1000);
    await mosquittoPub(mosquitto.url, samplesTopic, examplePack({ endS: nowS, seq: 601 }));
    const second = await runGateway(folder, ["--no-virtual", "--broker-url", mosquitto.url]);
    await ready(second);
    await eventually(
      async () => {
        const metrics = await (await fetch(second.api.replace("/api/v1", "/metrics"))).text();
        return /leeward_queued 0/.test(metrics) && (await storedNumbers(folder)).size === 601;
      },
      "all 601 are stored",
      40_000,
    );
    second.child.kill("SIGINT");
    expect(await second.ended).toBe(0);
  });
});
