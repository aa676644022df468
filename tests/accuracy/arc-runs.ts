import { readFileSync } from "node:fs";
import { stationSchema } from "@leeward/shared-core/documents/station.ts";
import { createSupplyEngine } from "@leeward/shared-core/estimation/supply-engine.ts";
import { ReplayReader } from "@leeward/shared-core/messages/replay-lines.ts";
import { LuaFactory } from "wasmoon";
import { LuaNode } from "../../gateway/virtual-shop/host/lua-node.ts";
import { PastTransport } from "../../gateway/virtual-shop/host/past-transport.ts";
import { plantConfigFor } from "../../gateway/virtual-shop/plant/from-station.ts";
import { createPlant, type Plant } from "../../gateway/virtual-shop/plant/plant.ts";
import { startUnixS } from "./simulate.ts";
import { tigStation } from "./stations.ts";

/** From the arc to the line that says `arc-without-gas`: plant, real firmware in its VM, reader and engine. */

/** One turn of the node, s. */
const turnS = 0.25;
/** The plant moves in finer steps, so that an arc strikes at any moment of a turn. */
const stepS = 0.05;
/** Lines a second apart, as the gateway writes them. */
const everyS = 1;

const bundleUrl = new URL("../../firmware/dist/leeward-node.lua", import.meta.url);

/** When the gas valve of the torch opens and closes, s from the arc; the arc burns for 10 s. */
export interface ArcGas {
  opensS: number;
  closesS: number;
}

const drop = (plant: Plant) => plant.inputs.drops[0]!;

/**
 * Strikes an arc at an idle station `phaseS` after a whole second.
 *
 * @param seed draws the hardware, and when the node starts: its turns lie anywhere in a second
 * @param phaseS when the arc strikes after a whole second, s
 * @param gas null: the gas valve of the torch stays shut
 * @param valveOpen whether the cylinder valve is open
 * @returns seconds from the arc to the receipt that lets out the first line with `arc-without-gas`;
 *   null where none does while the arc burns or in the 10 s after it
 */
export async function arcToLineS(
  seed: number,
  phaseS: number,
  gas: ArcGas | null,
  { valveOpen = true } = {},
): Promise<number | null> {
  const described = tigStation();
  const station = stationSchema.parse({
    ...described,
    sensors: { ...described.sensors, arc: true },
  });
  const config = plantConfigFor(station, { startUnixS });
  config.sensors.arc = true;
  const plant = createPlant(config, seed);
  plant.setTrueFlow(8);
  const node = new LuaNode(new LuaFactory(), readFileSync(bundleUrl, "utf8"), {
    site: station.site,
    node: station.node!,
    hardwareAddress: "",
    random: seed,
    plant,
    drop: 0,
    files: new Map(),
  });
  const transport = new PastTransport(node, () => plant.t);
  node.use(transport);
  // A node starts when it likes: its turns lie anywhere against the whole second.
  for (let k = 0; k < 1 + ((seed * 3) % 20); k++) plant.step(stepS);
  await node.powerOn(plant.t);
  const setup = { supply: null, stations: [station] };
  const reader = new ReplayReader(setup);
  const engine = createSupplyEngine(setup, { every: everyS });
  let taken = 0;
  let nextTurnS = plant.t + turnS;
  let rangS: number | null = null;
  const until = (endS: number): void => {
    while (plant.t < endS - stepS / 2) {
      plant.step(stepS);
      if (plant.t < nextTurnS - stepS / 2) continue;
      nextTurnS += turnS;
      node.tick(plant.t);
      for (; taken < transport.sent.length; taken++) {
        const { receivedS, topic, payload } = transport.sent[taken]!;
        const text = JSON.stringify({ received: receivedS, topic, payload: JSON.parse(payload) });
        const read = reader.read(text);
        if (!read.ok) throw new Error(JSON.stringify(read.fault));
        for (const item of read.items) {
          for (const { estimate } of engine.receive(item)) {
            const rings = estimate.alarms.some((one) => one.condition === "arc-without-gas");
            if (rings) rangS ??= receivedS;
          }
        }
      }
    }
  };
  // A first weld with gas shows the line at work.
  until(startUnixS + 30);
  drop(plant).torchOpen = true;
  until(startUnixS + 60);
  drop(plant).torchOpen = false;
  if (!valveOpen) {
    plant.inputs.cylinderValveOpen = false;
    drop(plant).torchOpen = true;
    until(startUnixS + 90);
    drop(plant).torchOpen = false;
  }
  const strikeS = startUnixS + 120 + phaseS;
  const moves: [number, () => void][] = [
    [0, () => Object.assign(drop(plant), { arc: true })],
    [10, () => Object.assign(drop(plant), { arc: false })],
  ];
  if (gas !== null) {
    moves.push([gas.opensS, () => Object.assign(drop(plant), { torchOpen: true })]);
    moves.push([gas.closesS, () => Object.assign(drop(plant), { torchOpen: false })]);
  }
  for (const [afterS, move] of moves.sort(([a], [b]) => a - b)) {
    until(strikeS + afterS);
    move();
  }
  until(strikeS + 20);
  node.powerOff();
  return rangS === null ? null : rangS - strikeS;
}
