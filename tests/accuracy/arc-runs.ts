import { readFileSync } from "node:fs";
import { type StationDocument, stationSchema } from "@leeward/shared-core/documents/station.ts";
import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import { createSupplyEngine } from "@leeward/shared-core/estimation/supply-engine.ts";
import { ReplayReader } from "@leeward/shared-core/messages/replay-lines.ts";
import { LuaFactory } from "wasmoon";
import { LuaNode } from "../../gateway/virtual-shop/host/lua-node.ts";
import { PastTransport } from "../../gateway/virtual-shop/host/past-transport.ts";
import type { PlantConfig } from "../../gateway/virtual-shop/plant/config.ts";
import {
  type PlantVariation,
  plantConfigFor,
} from "../../gateway/virtual-shop/plant/from-station.ts";
import { createPlant, type Plant } from "../../gateway/virtual-shop/plant/plant.ts";
import { createRandom } from "../../gateway/virtual-shop/plant/random.ts";
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

const drop = (plant: Plant) => plant.inputs.drops[0]!;

/** A station with an arc signal. */
const withArc = (station: StationDocument): StationDocument =>
  stationSchema.parse({ ...station, sensors: { ...station.sensors, arc: true } });

/** What happens to a plant and when, Unix s. */
type Moves = [atS: number, move: (plant: Plant) => void][];

interface Watched {
  station?: StationDocument;
  variation?: PlantVariation;
  alter?: (config: PlantConfig) => void;
  /** Called after each step of the plant. */
  onStep?: (plant: Plant) => void;
  /** Each line that a pack lets out, with its receipt. */
  onLine: (estimate: Estimate, receivedS: number) => void;
}

/** Runs a plant with its node and its engine through the moves, and `endS` in all. */
async function watch(seed: number, moves: Moves, endS: number, watched: Watched): Promise<void> {
  const station = watched.station ?? withArc(tigStation());
  const config = plantConfigFor(station, { startUnixS, ...watched.variation });
  config.sensors.arc = true;
  watched.alter?.(config);
  const plant = createPlant(config, seed);
  plant.setTrueFlow(station.procedure?.targetLpm ?? 8);
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
  const until = (toS: number): void => {
    while (plant.t < toS - stepS / 2) {
      plant.step(stepS);
      watched.onStep?.(plant);
      if (plant.t < nextTurnS - stepS / 2) continue;
      nextTurnS += turnS;
      node.tick(plant.t);
      for (; taken < transport.sent.length; taken++) {
        const { receivedS, topic, payload } = transport.sent[taken]!;
        const text = JSON.stringify({ received: receivedS, topic, payload: JSON.parse(payload) });
        const read = reader.read(text);
        if (!read.ok) throw new Error(JSON.stringify(read.fault));
        for (const item of read.items) {
          for (const { estimate } of engine.receive(item)) watched.onLine(estimate, receivedS);
        }
      }
    }
  };
  for (const [atS, move] of [...moves].sort(([a], [b]) => a - b)) {
    until(atS);
    move(plant);
  }
  until(endS);
  node.powerOff();
}

const torch = (open: boolean) => (plant: Plant) => {
  drop(plant).torchOpen = open;
};
const arc = (burns: boolean) => (plant: Plant) => {
  drop(plant).arc = burns;
};

const rings = ({ alarms }: Estimate): boolean =>
  alarms.some(({ condition }) => condition === "arc-without-gas");

/** When the gas valve of the torch opens and closes, s from the arc; the arc burns for 10 s. */
export interface ArcGas {
  opensS: number;
  closesS: number;
}

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
  const strikeS = startUnixS + 120 + phaseS;
  let rangS: number | null = null;
  // A first weld with gas shows the line at work.
  const moves: Moves = [
    [startUnixS + 30, torch(true)],
    [startUnixS + (valveOpen ? 60 : 90), torch(false)],
    [strikeS, arc(true)],
    [strikeS + 10, arc(false)],
  ];
  // Closed in the weld: the torch empties the line.
  if (!valveOpen) moves.push([startUnixS + 60, gasStops["cylinder-valve"]]);
  if (gas !== null) {
    moves.push([strikeS + gas.opensS, torch(true)], [strikeS + gas.closesS, torch(false)]);
  }
  await watch(seed, moves, strikeS + 20, {
    onLine: (estimate, receivedS) => {
      if (rings(estimate)) rangS ??= receivedS;
    },
  });
  return rangS === null ? null : rangS - strikeS;
}

/** What ends the gas of a weld under way. */
export const gasStops = {
  /** The gas valve at the end of the hose shuts: the hose fills first. */
  "torch-valve": torch(false),
  /** Somebody closes the cylinder: the high side empties first. */
  "cylinder-valve": (plant: Plant) => {
    plant.inputs.cylinderValveOpen = false;
  },
  /** The regulator gives nothing more. */
  regulator: (plant: Plant) => {
    plant.inputs.screwBackedOff = true;
  },
  /** The hose comes off where the torch begins. */
  "hose-off": (plant: Plant) => {
    drop(plant).nozzleShare = 40;
  },
} satisfies Record<string, (plant: Plant) => void>;

/** Somebody turns the float to half under the arc: little gas, but gas. */
export const needleHalved = (plant: Plant) => {
  drop(plant).needle *= 0.5;
};

export interface GasStop {
  by: keyof typeof gasStops | "needle-halved";
  station?: StationDocument;
  /** Welds before it, which teach the line. */
  welds?: number;
}

/**
 * Ends the gas of a weld under way `phaseS` after a whole second; the arc burns on.
 *
 * @returns seconds to the receipt that lets out the first line with `arc-without-gas` (null: never within a
 *   minute): from what ended it, and from when less than a quarter of the least flow left the torch
 */
export async function gasStopToLineS(
  seed: number,
  phaseS: number,
  { by, station = tigStation(), welds = 6 }: GasStop,
): Promise<{ fromCauseS: number | null; fromGoneS: number | null; goneAfterS: number | null }> {
  const least = station.procedure?.minimumLpm ?? 6;
  const moves: Moves = [];
  let t = startUnixS + 30;
  for (let k = 0; k < welds; k++, t += 50) {
    moves.push([t, torch(true)], [t + 0.5, arc(true)]);
    moves.push([t + 20, arc(false)], [t + 25, torch(false)]);
  }
  const causeS = t + 20 + phaseS;
  const stop = by === "needle-halved" ? needleHalved : gasStops[by];
  moves.push([t, torch(true)], [t + 0.5, arc(true)], [causeS, stop]);
  let goneS: number | null = null;
  let rangS: number | null = null;
  await watch(seed, moves, causeS + 60, {
    station: withArc(station),
    onStep: (plant) => {
      if (plant.t < causeS) return;
      const { torchLpm } = plant.truth().drops[0]!;
      const shields = by === "hose-off" ? 0 : torchLpm;
      if (shields < least / 4) goneS ??= plant.t;
    },
    onLine: (estimate, receivedS) => {
      if (rings(estimate) && rangS === null) {
        if (receivedS < causeS) throw new Error(`rang ${causeS - receivedS} s before its cause`);
        rangS = receivedS;
      }
    },
  });
  const from = (s: number | null) => (rangS === null || s === null ? null : rangS - s);
  return {
    fromCauseS: from(causeS),
    fromGoneS: from(goneS),
    goneAfterS: goneS === null ? null : goneS - causeS,
  };
}

export interface NormalWelds {
  hours: number;
  station?: StationDocument;
  variation?: PlantVariation;
  /** The regulator's pressure swings by so much, gauge Pa to either side, once in so many seconds. */
  hunts?: { pa: number; periodS: number };
}

/**
 * Welds in gas: long seams and series of tacks, gas before the arc, with it or just after it, and after it for
 * up to 15 s or not at all.
 *
 * @returns arcs struck, and seconds from the start to each line that says `arc-without-gas`
 */
export async function normalWelds(
  seed: number,
  { hours, station = tigStation(), variation = {}, hunts }: NormalWelds,
): Promise<{ arcs: number; rangS: number[] }> {
  const random = createRandom(seed, 61);
  const endS = startUnixS + hours * 3600;
  const moves: Moves = [];
  let arcs = 0;
  for (let t = startUnixS + 30; t < endS - 120; ) {
    const tacks = random.next() < 0.3;
    const count = tacks ? 3 + Math.floor(8 * random.next()) : 1;
    for (let k = 0; k < count; k++) {
      const arcS = tacks ? random.between(0.5, 3) : random.between(4, 90);
      const strikes = t + 1;
      const ends = strikes + arcS;
      const shuts = ends + (random.next() < 0.4 ? 0 : random.between(0.2, tacks ? 4 : 15));
      moves.push([strikes + random.between(-1, 0.5), torch(true)], [strikes, arc(true)]);
      moves.push([ends, arc(false)], [shuts, torch(false)]);
      arcs++;
      t = shuts + random.between(tacks ? 1 : 5, tacks ? 12 : 60);
    }
  }
  const rangS: number[] = [];
  let setPa: number | null = null;
  await watch(seed, moves, endS, {
    station: withArc(station),
    variation,
    onStep: (plant) => {
      if (hunts === undefined) return;
      setPa ??= plant.inputs.deliveryPa;
      const turn = (2 * Math.PI * (plant.t - startUnixS)) / hunts.periodS;
      plant.inputs.deliveryPa = setPa + hunts.pa * Math.sin(turn);
    },
    onLine: (estimate) => {
      if (rings(estimate)) rangS.push(estimate.t - startUnixS);
    },
  });
  return { arcs, rangS };
}
