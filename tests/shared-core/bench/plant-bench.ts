import { type StationDocument, stationSchema } from "@leeward/shared-core/documents/station.ts";
import {
  type PlantVariation,
  plantConfigFor,
} from "../../../gateway/virtual-shop/plant/from-station.ts";
import { createPlant } from "../../../gateway/virtual-shop/plant/plant.ts";
import { createRandom } from "../../../gateway/virtual-shop/plant/random.ts";

/** One step of a bench test: cylinder pressure, and what is done there. */
export interface BenchStep {
  bar: number;
  /** Reading to set; left alone where absent. */
  set?: number;
}

/** What the plant knows: cylinder and line pressure in the first row, and the last needle. */
export interface BenchTruth {
  cylinderBar: number;
  deliveryBar: number;
  /** Fall of the line, bar, for each L/min more between 5 and 12 L/min, full cylinder. */
  droop: number;
  /** Choked flow for each bar of absolute line pressure at 20 °C. */
  lpmPerBar: number;
}

/** A float tube of a boatyard's pipe shop, in L/min. */
export function tubeStation(more: Record<string, unknown> = {}): StationDocument {
  return stationSchema.parse({
    schema: 1,
    station: "pipe-2",
    site: "yard",
    name: "Pipe shop 2",
    cylinder: {
      gas: "I1-Ar",
      composition: { Ar: 1 },
      waterVolumeL: 50,
      filledBar: 200,
      filledC: 20,
      residualBar: 10,
    },
    regulator: { stages: 1, adjust: "preset", deliveryBar: 3.45, maxLineBar: 8, reliefBar: 12 },
    flowDevice: {
      kind: "variable-area",
      scaleGas: { Ar: 1 },
      scaleBar: 3.45,
      scaleC: 20,
      scaleMin: 2,
      scaleMax: 16,
      valve: "after-tube",
      float: "ball",
      readAt: "float-centre",
      readingUnit: "L/min",
    },
    lineTap: "regulator-outlet",
    hose: { lengthM: 4, boreMm: 6 },
    sensors: { line: { rangeBar: 10, accuracyPercentFs: 0.5 } },
    procedure: { process: "GTAW", cup: 7, targetLpm: 8 },
    ...more,
  });
}

/**
 * Runs a bench test on a simulated plant, which shares no code with the fit. Each cylinder pressure
 * is a plant of its own at rest, since a bench test waits for the temperatures to settle.
 */
export function runBench(input: {
  station: StationDocument;
  variation: PlantVariation;
  steps: readonly BenchStep[];
  seed: number;
  meterSigma: number;
  readingSigma: number;
  line: boolean;
}): {
  csv: string;
  truth: BenchTruth;
  dialTruth(bar: number, lpm: number): number;
  /** True flow over the target, minus 1, percent: needle left since full, and dialled to the mark. */
  leftTruth(bar: number, lpm: number): number;
  errorTruth(bar: number, lpm: number): number;
} {
  const { station, variation, steps } = input;
  const random = createRandom(input.seed, 77);
  const rows = ["cylinder_bar,line_bar,indicated,true_lpm,true_u_percent,action"];
  let needle: number | null = null;
  let truth: BenchTruth | null = null;
  for (const [k, step] of steps.entries()) {
    const plant = settled(station, variation, step.bar, input.seed);
    const drop = plant.inputs.drops[0]!;
    if (step.set !== undefined) {
      // A person sets the float with an error of the eye.
      plant.setReading(step.set * (1 + input.readingSigma * random.normal()));
      needle = drop.needle;
    } else if (needle !== null) {
      drop.needle = needle;
    }
    drop.torchOpen = true;
    plant.step(20);
    const now = plant.truth().drops[0]!;
    truth ??= {
      cylinderBar: plant.truth().cylinderPa / 1e5 - 1.01325,
      deliveryBar: now.bodyPa / 1e5 - 1.01325,
      lpmPerBar: 0,
      droop: droopOf(station, variation, input.seed),
    };
    truth.lpmPerBar = (drop.needle * 1e5 * 60_000) / plant.gas.metric20Density;
    // Read when everything is still, a little off what was dialled: the body has cooled since.
    const shown = now.indicated * (1 + input.readingSigma * random.normal());
    const measured = now.deviceLpm * (1 + input.meterSigma * random.normal());
    const sensed = plant.readSensors().linePa;
    const line = input.line && sensed !== null ? (sensed / 1e5).toFixed(4) : "";
    rows.push(
      [
        (plant.readSensors().cylinderPa! / 1e5).toFixed(2),
        line,
        shown.toFixed(4),
        measured.toFixed(4),
        (input.meterSigma * 100).toFixed(2),
        step.set === undefined ? "left" : k === 0 ? "set" : "redialled",
      ].join(","),
    );
  }
  return {
    truth: truth!,
    csv: `${rows.join("\n")}\n`,
    dialTruth: (bar, lpm) => {
      const plant = settled(station, variation, bar, input.seed);
      plant.setTrueFlow(lpm);
      plant.inputs.drops[0]!.torchOpen = true;
      plant.step(20);
      const { indicated, deviceLpm } = plant.truth().drops[0]!;
      // The flow drifts a little while the body cools: bring the reading back to the target.
      return indicated * (lpm / deviceLpm);
    },
    leftTruth: (bar, lpm) => {
      const flowAt = (cylinderBar: number, opening: number | null) => {
        const plant = settled(station, variation, cylinderBar, input.seed);
        const drop = plant.inputs.drops[0]!;
        if (opening === null) plant.setTrueFlow(lpm);
        else drop.needle = opening;
        drop.torchOpen = true;
        plant.step(20);
        return { needle: drop.needle, lpm: plant.truth().drops[0]!.deviceLpm };
      };
      // The flow drifts a little while the body cools: the needle is opened by as much.
      const full = flowAt(200, null);
      const again = flowAt(200, (full.needle * lpm) / full.lpm);
      const right = (again.needle * lpm) / again.lpm;
      return (flowAt(bar, right).lpm / lpm - 1) * 100;
    },
    errorTruth: (bar, lpm) => {
      const plant = settled(station, variation, bar, input.seed);
      plant.setReading(lpm);
      plant.inputs.drops[0]!.torchOpen = true;
      plant.step(20);
      const { indicated, deviceLpm } = plant.truth().drops[0]!;
      return ((deviceLpm * lpm) / indicated / lpm - 1) * 100;
    },
  };
}

function droopOf(station: StationDocument, variation: PlantVariation, seed: number): number {
  const at = (lpm: number) => {
    const plant = settled(station, variation, 200, seed);
    plant.setTrueFlow(lpm);
    plant.inputs.drops[0]!.torchOpen = true;
    plant.step(20);
    const { bodyPa, deviceLpm } = plant.truth().drops[0]!;
    return { bar: bodyPa / 1e5, lpm: deviceLpm };
  };
  const little = at(5);
  const much = at(12);
  return (little.bar - much.bar) / (much.lpm - little.lpm);
}

function settled(station: StationDocument, variation: PlantVariation, bar: number, seed: number) {
  const config = plantConfigFor(station, { ...variation, presentBar: bar, presentC: 20 });
  return createPlant(config, seed);
}
