import type { StationDocument, SupplyDocument } from "@leeward/shared-core/documents/station.ts";
import { stationSchema, supplySchema } from "@leeward/shared-core/documents/station.ts";
import type { PlacedSample, ReceivedItem } from "@leeward/shared-core/estimation/engine.ts";
import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import { createSupplyEngine } from "@leeward/shared-core/estimation/supply-engine.ts";
import { CylinderNode } from "../../gateway/virtual-shop/plant/cylinder-node.ts";
import { plantGas } from "../../gateway/virtual-shop/plant/gas.ts";
import { createRandom } from "../../gateway/virtual-shop/plant/random.ts";
import { tigStation } from "./stations.ts";

/**
 * Two drops on one cylinder, each with its own regulator and line sensor: who welds when is up to
 * the scenario. The cylinder is the plant's; the low sides are plain: choked needle, droop, lock-up,
 * a hose that fills after the torch shuts.
 */

export interface TwoDropLine {
  station: string;
  estimate: Estimate;
  /** True flow through the device, L/min. */
  trueLpm: number;
  torchOpen: boolean;
  /** True content of the cylinder, L. */
  contentL: number;
}

export interface TwoDropScenario {
  hours: number;
  every: number;
  /** Whether each torch is open at `t` s after the start. */
  open: (t: number, seed: number) => [boolean, boolean];
  /** True flows at full line pressure, L/min; drawn from the seed where absent. */
  lpm?: [number, number];
  presentBar?: number;
  /** The first drop's needle is turned at `t` s: new flow over old. */
  turn?: { t: number; factor: number };
  /** Rise of the line from flow to none that is no droop, Pa; drawn from the seed where absent. */
  lockUpPa?: number;
  /** Opened at `t` s after `downS` with valves closed and lines bled; gauge bar of what was fitted, null where nothing was. */
  swap?: { t: number; downS: number; bar: number | null };
  /** Equal cylinders on the header; one where absent. */
  count?: number;
  /** Nodes that have no line sensor. */
  withoutLine?: readonly string[];
  timeZone?: string;
  /** Gas that is lost all the while, L/min. */
  leakLpm?: number;
  /** Where the stations stand. */
  places?: readonly [StationDocument["place"], StationDocument["place"]];
}

export const twoDropStartS = 1_763_973_000;

/** Documents: a ring of two drops, the cylinder's sensors on the first one's node. */
export function twoDropDocuments(
  withoutLine: readonly string[] = [],
  places: TwoDropScenario["places"] = [undefined, undefined],
  count = 1,
): {
  supply: SupplyDocument;
  stations: StationDocument[];
} {
  const base = tigStation();
  const { cylinder, ...rest } = base;
  const drop = (k: 0 | 1, station: string, node: string, sensors: object) => {
    const fitted = withoutLine.includes(node) ? { ...sensors, line: undefined } : sensors;
    const own = { station, node, supply: "ring-1", sensors: fitted, place: places[k] };
    return stationSchema.parse({ ...rest, ...own });
  };
  const line = { rangeBar: 10, accuracyPercentFs: 0.5 };
  return {
    supply: supplySchema.parse({
      schema: 1,
      supply: "ring-1",
      site: base.site,
      node: "n-07",
      kind: count > 1 ? "bank" : "cylinder",
      cylinder: { ...cylinder, count },
      reserve: null,
      regulator: base.regulator,
      drops: ["bay-3", "bay-4"],
    }),
    stations: [
      drop(0, "bay-3", "n-07", { cylinder: { rangeBar: 250, accuracyPercentFs: 0.5 }, line }),
      drop(1, "bay-4", "n-08", { line }),
    ],
  };
}

/** Two torches that open and shut at random, each in its own rhythm. */
export function ownRhythms(seed: number, onS = 70, offS = 110): (t: number) => [boolean, boolean] {
  const edges = [1, 2].map((k) => {
    const random = createRandom(seed, 200 + k);
    const out: number[] = [];
    let t = 300 + random.between(0, offS);
    for (let i = 0; i < 2000; i++) {
      out.push(t);
      t += (i % 2 === 0 ? onS : offS) * random.between(0.4, 1.8);
    }
    return out;
  });
  const open = (list: number[], t: number) => list.filter((edge) => edge <= t).length % 2 === 1;
  return (t) => [open(edges[0]!, t), open(edges[1]!, t)];
}

/** The truth about one drop at one moment. */
export interface TwoDropTruth {
  lpm: number;
  open: boolean;
  contentL: number;
}

/** @param record is given every item as the engine gets it, and the documents first */
export function simulateTwoDrops(
  scenario: TwoDropScenario,
  seed: number,
  record: (item: ReceivedItem) => void = () => {},
): TwoDropLine[] {
  const setup = {
    ...twoDropDocuments(scenario.withoutLine, scenario.places, scenario.count),
    timeZone: scenario.timeZone ?? "UTC",
  };
  const engine = createSupplyEngine(setup, { every: scenario.every });
  const lines: TwoDropLine[] = [];
  const truths = new Map<number, TwoDropTruth[]>();
  playTwoDrops(scenario, seed, {
    truth: (unix, drops) => truths.set(unix, drops),
    item: (item) => {
      record(item);
      for (const { station, estimate } of engine.receive(item)) {
        const truth = truths.get(estimate.t)?.[station === "bay-3" ? 0 : 1];
        if (!truth) continue;
        const { lpm: trueLpm, open: torchOpen, contentL } = truth;
        lines.push({ station, estimate, trueLpm, torchOpen, contentL });
      }
    },
  });
  return lines;
}

/** The plant alone: what its nodes send, in order of receipt, and the truth of each second. */
export function playTwoDrops(
  scenario: TwoDropScenario,
  seed: number,
  tell: {
    item: (item: ReceivedItem) => void;
    truth: (unixS: number, drops: TwoDropTruth[]) => void;
  },
): void {
  const random = createRandom(seed, 7);
  const gas = plantGas("Ar");
  const airK = 273.15 + random.between(14, 22);
  const cylinder = new CylinderNode(
    gas,
    {
      waterVolumeM3: 0.05 * (1 + 0.005 * random.normal()),
      count: scenario.count ?? 1,
      steelKg: 62,
      thermalLag: random.between(0.75, 1.35),
      leakMolPerSPa: 0,
    },
    airK,
  );
  cylinder.fill({ gaugePa: (scenario.presentBar ?? 150) * 1e5, temperatureK: airK }, airK);
  const molPerLitre = gas.metric20Density / 1000;
  const lpm = scenario.lpm ?? [8 * random.between(0.85, 1.15), 8 * random.between(0.85, 1.15)];
  const regulators = [0, 1].map((k) => ({
    lockUpPa: scenario.lockUpPa ?? random.between(0.2e5, 0.5e5),
    droopPaPerLpm: random.between(0.01e5, 0.03e5),
    setLpm: lpm[k]!,
    needle: 1,
    linePa: 3.45e5 + 0.4e5,
    hosePa: 3.45e5 + 0.4e5,
    offsetPa: random.between(-5000, 5000),
    lpm: 0,
  }));
  const cylinderOffsetPa = random.between(-1.2e5, 1.2e5);
  const probeK = random.between(-0.5, 0.5);
  const withoutLine = scenario.withoutLine ?? [];
  const waiting: PlacedSample[][] = [[], []];
  const lastPackS = [0, 0];
  const lastRowS = [-100, -100];
  const movingUntil = [0, 0];
  const wasOpen = [false, false];
  const end = scenario.hours * 3600;
  const { swap, turn } = scenario;
  let wasShut = false;
  for (let t = 0; t < end; t++) {
    const shut = swap !== undefined && t >= swap.t - swap.downS && t < swap.t;
    if (shut !== wasShut) {
      wasShut = shut;
      movingUntil.fill(t + 30);
    }
    if (swap?.t === t && swap.bar !== null) {
      cylinder.fill({ gaugePa: swap.bar * 1e5, temperatureK: airK }, airK);
    }
    const open = shut ? [false, false] : scenario.open(t, seed);
    if (turn && t >= turn.t) regulators[0]!.needle = turn.factor;
    let drawn = (scenario.leakLpm ?? 0) / 60;
    regulators.forEach((r, k) => {
      for (let part = 0; part < 10; part++) {
        const absolute = r.linePa + 101325;
        const full = (r.needle * r.setLpm * absolute) / (3.45e5 + 101325);
        // Hose of 4 m at 6 mm bore: 0.113 L for each bar.
        const room = Math.max(r.linePa - r.hosePa, 0);
        if (shut) {
          // Valve closed and line bled: what is left leaves within seconds.
          r.lpm = 0;
          r.hosePa = r.linePa;
          r.linePa *= Math.exp(-0.1 / 3);
          continue;
        }
        r.lpm = open[k] ? full : Math.min(full, (room / 1e5) * 0.113 * 600);
        r.hosePa = open[k] ? 0.25e5 : r.hosePa + (r.lpm / 600 / 0.113) * 1e5;
        const goal =
          r.lpm > 0.3 * full
            ? 3.45e5 - r.droopPaPerLpm * (r.lpm - r.setLpm)
            : 3.45e5 + r.droopPaPerLpm * r.setLpm + r.lockUpPa;
        r.linePa += (goal - r.linePa) * (1 - Math.exp(-0.1 / 0.4));
        drawn += r.lpm / 600;
      }
      if (open[k] !== wasOpen[k]) {
        wasOpen[k] = open[k];
        movingUntil[k] = t + 10;
      }
    });
    for (let part = 0; part < 10; part++) {
      cylinder.advance(0.1, (drawn / 10) * molPerLitre, airK, 0);
    }
    const unix = twoDropStartS + t;
    tell.truth(
      unix,
      regulators.map((r, k) => ({
        lpm: r.lpm,
        open: open[k]!,
        contentL: cylinder.n / molPerLitre,
      })),
    );
    const received = unix + 0.3;
    regulators.forEach((r, k) => {
      const fast = open[k]! || t < movingUntil[k]!;
      const rows = waiting[k]!;
      if (fast || t - lastRowS[k]! >= 15) {
        lastRowS[k] = t;
        const linePa = r.linePa + r.offsetPa + 400 * random.normal();
        if (!withoutLine.includes(`n-0${7 + k}`)) {
          rows.push({ channel: "line-pressure", t: unix, value: linePa });
        }
        if (k === 0) {
          const pa = (shut ? 0 : cylinder.state.pressurePa - 101325) + cylinderOffsetPa;
          const value = Math.round((pa + 3000 * random.normal()) / 200) * 200;
          rows.push({ channel: "cylinder-pressure", t: unix, value });
          const celsius = Math.round((cylinder.wallK - 273.15 + probeK) * 16) / 16;
          rows.push({ channel: "cylinder-temperature", t: unix, value: celsius });
        }
      }
      if (rows.length === 0 || t - lastPackS[k]! < (fast ? 2 : 60)) return;
      lastPackS[k] = t;
      const node = k === 0 ? "n-07" : "n-08";
      const item: ReceivedItem = {
        received,
        pack: { node, boot: 1, seq: t, samples: rows, thinned: false, stampedAtReceipt: false },
      };
      waiting[k] = [];
      tell.item(item);
    });
  }
}
