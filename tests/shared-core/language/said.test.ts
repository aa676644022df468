import { cylinderRecordSchema } from "@leeward/shared-core/api/rack.ts";
import { cardContent, tellCard } from "@leeward/shared-core/bench/card-content.ts";
import { parseBenchCsv } from "@leeward/shared-core/bench/csv-readings.ts";
import { type BenchResult, fitDevice } from "@leeward/shared-core/bench/fit-device.ts";
import { demand } from "@leeward/shared-core/demand/index.ts";
import { parseDocument } from "@leeward/shared-core/documents/parse.ts";
import {
  type ProcedureDocument,
  procedureSchema,
} from "@leeward/shared-core/documents/procedure.ts";
import { stationSchema } from "@leeward/shared-core/documents/station.ts";
import type { Composition } from "@leeward/shared-core/gases/composition.ts";
import { phrases as english } from "@leeward/shared-core/language/english/index.ts";
import { phrases as german } from "@leeward/shared-core/language/german/index.ts";
import { phraseIn } from "@leeward/shared-core/language/phrases.ts";
import { stationSafety } from "@leeward/shared-core/safety/station-safety.ts";
import { describe, expect, test } from "vitest";
import { tubeStation } from "../bench/plant-bench.ts";

/** What the book does not know of a text. */
function unknownIn(text: string): string[] {
  const found: string[] = [];
  phraseIn(text, { english, own: german, decimal: "," }, (part) => found.push(part));
  return found;
}

/** Choices of one procedure field each, so that every reason of the tables comes up somewhere. */
const choices: readonly Record<string, unknown>[] = [
  { process: "GTAW", cup: 7 },
  { process: "GTAW", cup: 9, gasLens: true, standoffMm: 30 },
  { process: "GTAW", cup: 6, standoffMm: 12, amps: 260, torchRatedAmps: 200 },
  { process: "GTAW", material: "titanium", thicknessMm: 2 },
  { process: "GTAW", material: "aluminium", thicknessMm: 3, polarity: "AC", amps: 120 },
  { process: "GTAW", cup: 7, draughtMs: 0.6, joint: "edge" },
  { process: "GTAW", cup: 7, draughtMs: 1.5, preflowS: 1, postflowS: 10 },
  { process: "GTAW", cup: 4, draughtMs: 1, gasLens: true },
  { process: "GMAW", transfer: "pulsed", material: "aluminium", nozzleBoreMm: 16 },
  { process: "GMAW", transfer: "short-circuit", wireMm: 1, position: "3G" },
  {
    process: "GMAW",
    transfer: "spray",
    position: "upside",
    material: "stainless",
    thicknessMm: 1.5,
  },
  { process: "GMAW", nozzleBoreMm: 15 },
  { process: "GMAW", material: "carbon-steel", thicknessMm: 6, draughtMs: 3 },
  { process: "FCAW-G", targetLpm: 14, joint: "outside corner" },
  { process: "GTAW", cup: 7, targetLpm: 30 },
  { process: "GTAW", cup: 7, targetLpm: 2 },
  { process: "GMAW", minimumLpm: 9 },
];
const gases: readonly Composition[] = [
  { Ar: 1 },
  { Ar: 0.75, He: 0.25 },
  { Ar: 0.82, CO2: 0.18 },
  { He: 1 },
  { CO2: 1 },
];

function demandTexts(procedure: ProcedureDocument, gas: Composition): string[] {
  const found = demand(procedure, gas);
  return [
    ...[...found.reasons, ...found.preflow.reasons, ...found.postflow.reasons].map(
      (one) => one.text,
    ),
    ...found.remarks,
    ...(found.spread?.sources ?? []),
    ...(found.window.why === undefined ? [] : [found.window.why]),
  ];
}

test("everything that is said of a weld is in the book", () => {
  const texts = new Set<string>();
  for (const choice of choices) {
    for (const gas of gases) {
      for (const text of demandTexts(procedureSchema.parse(choice), gas)) texts.add(text);
    }
  }
  expect(texts.size).toBeGreaterThan(60);
  expect([...texts].flatMap(unknownIn)).toEqual([]);
});

const head = "cylinder_bar,line_bar,indicated,true_lpm,true_u_percent,action\n";
const sheets: readonly [string, string][] = [
  [
    "rows that agree",
    `${head}150,3.45,8,8.0,1.5,set\n100,3.4,8,7.95,1.5,redialled\n60,3.36,8,7.9,1.5,redialled\n25,3.3,8,7.85,1.5,redialled\n`,
  ],
  ["too few rows", `${head}150,3.45,8,8.0,1.5,set\n`],
  [
    "one pressure",
    `${head}150,3.45,8,8.0,1.5,set\n149,3.45,8,8.0,1.5,redialled\n148,3.45,8,8,1.5,redialled\n`,
  ],
  [
    "a row that does not fit",
    `${head}150,3.45,8,8.0,1.5,set\n100,3.4,8,4.0,1.5,redialled\n60,3.36,8,7.9,1.5,redialled\n25,3.3,8,7.85,1.5,redialled\n`,
  ],
  [
    "rows that contradict each other",
    `${head}150,3.45,8,8,1,set\n100,3.4,8,3,1,redialled\n60,3.36,8,14,1,redialled\n25,3.3,8,1,1,redialled\n`,
  ],
  [
    "left rows exchanged",
    `${head}150,3.45,8,8,1.5,set\n100,3.4,3,8,1.5,left\n60,3.36,8,7.9,1.5,redialled\n30,3.3,8,7.85,1.5,redialled\n`,
  ],
  [
    "faulty rows",
    `${head}150,3.45,8,8,1.5,set\nabc,3,8,8,1,left\n500,3,8,8,1,left\n100,40,8,8,1,left\n100,3,0,8,1,left\n2,3,8,8,1,left\n100,3,,,1,left\n100,3,8,900,1,left\n100,3,8,8,1,turned\n`,
  ],
  [
    "no true flow",
    "cylinder_bar,indicated,true_lpm,odd,true_reference,meter_gas\n150,8,,1,,\n50,8,,1,,\n",
  ],
  [
    "odd meters",
    "cylinder_bar,indicated,true_lpm,true_reference,meter_gas\n150,8,8,iso,CO2\n50,8,8,normal,Ar\n40,8,8,odd,Xe\n30,8,8,,Ar\n",
  ],
];

describe("everything that is said of a bench test is in the book", () => {
  test.each(sheets)("%s", (_name, csv) => {
    const station = tubeStation();
    const rows = parseBenchCsv(csv, { Ar: 1 });
    const texts: string[] = [];
    if (!rows.ok) texts.push(...rows.faults);
    else {
      texts.push(...rows.value.refused.map(({ why }) => why));
      const answer = fitDevice(station, rows.value);
      if (!answer.ok) texts.push(answer.why);
      else texts.push(...resultTexts(answer.value));
      if (answer.ok) {
        tellCard(cardContent({ station, result: answer.value, date: "2026-03-02" }), (text) => {
          texts.push(text);
          return text;
        });
      }
    }
    expect(texts.length).toBeGreaterThan(0);
    expect(texts.flatMap(unknownIn)).toEqual([]);
  });
});

function resultTexts(result: BenchResult): string[] {
  return [
    result.why,
    ...result.questions,
    ...result.rows.map((row) => row.verdict),
    ...[...result.parameters, ...result.derived].flatMap((one) => [
      one.about,
      one.name.replaceAll("-", " "),
    ]),
    ...result.card.flatMap((entry) => [entry.why ?? entry.note ?? []].flat()),
  ];
}

const cylinder = {
  gas: "I1-Ar",
  composition: { Ar: 1 },
  waterVolumeL: 50,
  filledBar: 200,
  filledC: 15,
};
const documents: readonly unknown[] = [
  {},
  {
    schema: 1,
    station: "Bay 3",
    site: "x",
    cylinder: { gas: "", composition: { Ar: 2 }, waterVolumeL: -1 },
  },
  { schema: 1, station: "a", site: "x", cylinder: { ...cylinder, composition: { Ar: 0.5 } } },
  { schema: 1, station: "a", site: "x", cylinder: { ...cylinder, filledKg: 20 } },
  { schema: 1, station: "a", site: "x", cylinder: { ...cylinder, residualBar: 300 } },
  { schema: 1, station: "a", site: "x", cylinder, supply: "ring-1" },
  {
    schema: 1,
    station: "a",
    site: "x",
    cylinder,
    altitudeM: "high",
    regulator: { stages: 3, adjust: "x", deliveryBar: 0 },
    flowDevice: { kind: "no" },
    hose: null,
    procedure: { process: "x" },
  },
  {
    schema: 1,
    station: "a",
    site: "x",
    cylinder,
    regulator: { stages: 1, adjust: "preset", deliveryBar: 5, maxLineBar: 4 },
    sensors: {
      cylinder: { rangeBar: 100, accuracyPercentFs: 1 },
      line: { rangeBar: 3, accuracyPercentFs: 1 },
    },
  },
  {
    schema: 1,
    station: "a",
    site: "x",
    cylinder,
    procedure: { process: "GTAW", transfer: "spray", minimumLpm: 9, targetLpm: 8 },
  },
];

test("why a description or a cylinder is not taken is in the book", () => {
  const faults = documents.flatMap((one) => {
    const parsed = parseDocument(stationSchema, one);
    return parsed.ok ? [] : parsed.faults;
  });
  const record = parseDocument(cylinderRecordSchema, {
    serial: "",
    waterVolumeL: 0,
    filledOn: "2020",
  });
  if (!record.ok) faults.push(...record.faults);
  expect(faults.length).toBeGreaterThan(20);
  expect(faults.flatMap(({ message }) => unknownIn(message))).toEqual([]);
});

test("what would be dangerous is in the book", () => {
  const stations = [
    { cylinder: { ...cylinder, composition: { Ar: 0.6, O2: 0.4 } } },
    { cylinder: { ...cylinder, composition: { Ar: 0.74, O2: 0.26 } } },
    { cylinder: { ...cylinder, composition: { Ar: 0.9, O2: 0.05, H2: 0.05 } } },
    { cylinder: { ...cylinder, composition: { Ar: 0.4, H2: 0.6 } } },
    { cylinder: { ...cylinder, composition: { Ar: 0.9, H2: 0.1 } } },
    ...[undefined, 300].flatMap((proofBar) =>
      [undefined, 15].map((reliefBar) => ({
        cylinder,
        regulator: { stages: 1, adjust: "preset", deliveryBar: 3.5, reliefBar },
        sensors: {
          cylinder: { rangeBar: 210, accuracyPercentFs: 1, proofBar },
          line: {
            rangeBar: 10,
            accuracyPercentFs: 1,
            proofBar: proofBar === undefined ? undefined : 12,
          },
        },
      })),
    ),
  ];
  const findings = stations.flatMap((one) => {
    const { refusals, cautions } = stationSafety(
      stationSchema.parse({ schema: 1, station: "a", site: "x", ...one }),
    );
    return [...refusals, ...cautions];
  });
  expect(new Set(findings.map(({ rule }) => rule)).size).toBeGreaterThan(8);
  expect(findings.flatMap(({ message }) => unknownIn(message))).toEqual([]);
});
