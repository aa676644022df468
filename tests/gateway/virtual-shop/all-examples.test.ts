import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { exampleStations } from "@leeward/gateway/virtual-shop/example-stations.ts";
import { scenarioCase, scenarios } from "@leeward/gateway/virtual-shop/scenarios/index.ts";
import { type StationDocument, stationSchema } from "@leeward/shared-core/documents/station.ts";
import { describe, expect, it } from "vitest";
import { migStation, tigStation } from "../../accuracy/stations.ts";
import { exampleStation as dashboardExample } from "../../dashboard/display/examples.ts";
import { station as alarmExample } from "../../shared-core/alarms/bench-station.ts";
import { exampleStation } from "../support.ts";
import { argonStation } from "./plant/bench-station.ts";
import { type FlowExcuse, faultsOfExample } from "./sound-station.ts";

const root = new URL("../../../", import.meta.url).pathname;

/** Every station that stands as JSON on a page of the documentation. */
function documented(): { where: string; station: StationDocument }[] {
  const pages = ["README.md", "DEVELOPERS.md", "firmware/README.md"].concat(
    ...["docs", "hardware-notes"].map((folder) =>
      readdirSync(join(root, folder))
        .filter((name) => name.endsWith(".md"))
        .map((name) => join(folder, name)),
    ),
  );
  return pages.flatMap((page) => {
    const text = readFileSync(join(root, page), "utf8");
    return [...text.matchAll(/```json\n([\s\S]*?)```/g)].flatMap(([, block = ""]) => {
      const json = JSON.parse(block) as { station?: unknown; cylinder?: unknown };
      if (json.station === undefined || json.cylinder === undefined) return [];
      return [{ where: page, station: stationSchema.parse(json) }];
    });
  });
}

/** Examples whose flow is meant to lie beside the tables. */
const excuses: Readonly<Record<string, FlowExcuse>> = {
  // The gas fills a pipe; its flow is set by the pipe and not by a cup.
  "pipe-purge": "purge",
  purging: "purge",
  // 18 L/min of CO2 without a heater: so much that the body ices.
  "co2-cold-body": "stress",
};

const named = (station: StationDocument) => [station.station, station] as const;

describe("every example is held against the demand tables, a wrong-gas guard and the safety rules", () => {
  it.each(exampleStations().map(named))("demo: %s", (name, station) => {
    expect(faultsOfExample(station, excuses[name])).toEqual([]);
  });

  it.each(
    scenarios.flatMap((scenario) =>
      scenarioCase(scenario, 1).stations.map((station) => [scenario.name, station] as const),
    ),
  )("scenario: %s", (name, station) => {
    expect(faultsOfExample(station, excuses[name])).toEqual([]);
  });

  it("an excuse is needed by the example that has it, and covers its flow alone", () => {
    const all = [
      ...exampleStations().map(named),
      ...scenarios.flatMap((one) =>
        scenarioCase(one, 1).stations.map((s) => [one.name, s] as const),
      ),
    ];
    for (const [name, excuse] of Object.entries(excuses)) {
      const station = all.find((one) => one[0] === name)?.[1];
      if (!station) throw new Error(`there is no example ${name}`);
      expect(faultsOfExample(station), name).not.toEqual([]);
      const unsafe = stationSchema.parse({ ...station, regulator: { stages: 1 } });
      expect(faultsOfExample(unsafe, excuse).join()).toContain("sensors.line.proofBar");
    }
  });

  it.each([
    ["of the gateway", exampleStation()],
    ["of the alarms", alarmExample],
    ["of the dashboard", dashboardExample()],
    ["of the plant", argonStation()],
    ["TIG, of the accuracy", tigStation()],
    ["MIG, of the accuracy", migStation()],
  ])("test station %s", (_name, station) => {
    expect(faultsOfExample(station)).toEqual([]);
  });

  it("documentation: at least one, and each", () => {
    const found = documented();
    expect(found.map((one) => one.where)).toContain("docs/setup.md");
    for (const { where, station } of found) expect(faultsOfExample(station), where).toEqual([]);
  });
});

describe("the holding itself can fail", () => {
  const sound = exampleStation();
  const worse = (change: Record<string, unknown>) =>
    faultsOfExample(stationSchema.parse({ ...sound, ...change }));

  it.each<[string, Record<string, unknown>, RegExp]>([
    [
      "a reading far above the tables",
      { flowDevice: { ...sound.flowDevice, reading: 20 } },
      /reading is 20/,
    ],
    ["a reading far below", { flowDevice: { ...sound.flowDevice, reading: 3 } }, /reading is 3/],
    ["a target outside", { procedure: { ...sound.procedure, targetLpm: 30 } }, /targetLpm is 30/],
    [
      "TIG under a mixture with CO2",
      {
        cylinder: {
          ...sound.cylinder,
          gas: "M20-ArC-8",
          composition: { Ar: 0.92, CO2: 0.08 },
        },
      },
      /tig-inert/,
    ],
    [
      "a sensor that bursts",
      { regulator: { stages: 1, deliveryBar: 3.45 } },
      /sensors\.line\.proofBar/,
    ],
  ])("%s is found", (_name, change, word) => {
    expect(worse(change).join("; ")).toMatch(word);
  });
});
