import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { describe, expect, test } from "vitest";
import { LuaFactory } from "wasmoon";
import { LuaNode } from "../../gateway/virtual-shop/host/lua-node.ts";
import { PastTransport } from "../../gateway/virtual-shop/host/past-transport.ts";
import { plantConfigFor } from "../../gateway/virtual-shop/plant/from-station.ts";
import { createPlant } from "../../gateway/virtual-shop/plant/plant.ts";
import { createRandom } from "../../gateway/virtual-shop/plant/random.ts";
import { EventLog, truthPoint } from "../../gateway/virtual-shop/plant/run.ts";
import { stories } from "../../gateway/virtual-shop/stories/index.ts";
import { ScriptActor } from "../../gateway/virtual-shop/stories/script.ts";
import type { SenmlRecord } from "./host.ts";

const bundle = readFileSync(
  join(import.meta.dirname, "../../firmware/dist/leeward-node.lua"),
  "utf8",
);
const factory = new LuaFactory();
const startS = 1_764_057_600;

interface Outcome {
  /** When gas really went on or off. */
  edges: number[];
  /** Times of line-pressure rows, and when their pack came. */
  rows: { t: number; at: number }[];
  /** Seconds for which the buzzer sounded although an arc had its gas. */
  falselyLoudS: number;
}

/** Runs a story's plant with the real bundle behind its sensors. */
async function play(index: number, seconds: number): Promise<Outcome> {
  const story = stories[index] ?? stories[0];
  if (story === undefined) throw new Error("there are no stories");
  const times = { startS, presentS: startS + seconds };
  const station = story.station("yard", times) as StationDocument;
  const plant = createPlant(
    plantConfigFor(station, { startUnixS: startS, ...story.variation(times) }),
    7,
  );
  plant.setReading(story.reading);
  const actor = new ScriptActor(
    { plant, random: createRandom(7, 50), log: new EventLog(), t: startS + 120 },
    (scene) => story.play(scene, times),
  );
  let nowS = startS;
  let loud = false;
  const node = new LuaNode(factory, bundle, {
    site: "yard",
    node: "n-1",
    hardwareAddress: "",
    random: 5,
    plant,
    drop: 0,
    files: new Map(),
    onBuzzer: (on) => {
      loud = on;
    },
  });
  const transport = new PastTransport(node, () => nowS);
  node.use(transport);
  await node.powerOn(nowS);
  const outcome: Outcome = { edges: [], rows: [], falselyLoudS: 0 };
  let gasOn = false;
  for (let turn = 1; turn <= seconds * 4; turn++) {
    nowS = startS + turn / 4;
    while (actor.nextS <= nowS) {
      if (actor.nextS > plant.t) plant.step(actor.nextS - plant.t);
      actor.act();
    }
    if (nowS > plant.t) plant.step(nowS - plant.t);
    node.tick(nowS);
    if (turn % 240 === 0) transport.tellStored();
    const truth = truthPoint(plant, 0, 0);
    if (truth.gasOn !== gasOn) outcome.edges.push(nowS);
    gasOn = truth.gasOn;
    if (loud && gasOn && plant.inputs.drops[0]?.arc === true) outcome.falselyLoudS += 0.25;
  }
  node.powerOff();
  for (const message of transport.sent) {
    if (!message.topic.endsWith("/samples")) continue;
    const pack = JSON.parse(message.payload) as SenmlRecord[];
    for (const record of pack) {
      if (record.n !== "line-pressure") continue;
      outcome.rows.push({ t: (pack[0]?.bt ?? 0) + (record.t ?? 0), at: message.receivedS });
    }
  }
  return outcome;
}

describe("gas seen from the line pressure of a simulated plant", () => {
  // Regulators, devices and habits differ from story to story; the plant's sensors have noise.
  for (const [index, story] of stories.entries()) {
    test(`edges reach the gateway within 2.5 s: ${story.plot.slice(0, 60)}`, async () => {
      const { edges, rows, falselyLoudS } = await play(index, 1500);
      const reported = edges.filter((edge) =>
        rows.some(({ t, at }) => t >= edge - 0.3 && at >= edge && at <= edge + 2.5),
      );
      expect(edges.length).toBeGreaterThan(0);
      expect(edges.length - reported.length).toBeLessThanOrEqual(Math.ceil(edges.length * 0.03));
      expect(falselyLoudS).toBe(0);
    });
  }
});
