import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { catalogue } from "../../../shared-core/cylinder/catalogue.ts";
import { gasData } from "../../../shared-core/gases/gas-data.ts";
import { viscosityModels } from "../../../shared-core/gases/viscosity.ts";
import { referenceConditions } from "../../../shared-core/units/reference-conditions.ts";

const core = new URL("../../../shared-core/", import.meta.url);
const folders = ["gases", "cylinder", "flow", "regulator", "nozzle", "safety", "units"];
const bibliography = readFileSync(new URL("sources.bib", core), "utf8");
const keys = [...bibliography.matchAll(/^@\w+\{([^,]+),/gm)].map((match) => match[1]);

const files = folders.flatMap((folder) =>
  readdirSync(new URL(`${folder}/`, core)).map((name) => {
    const text = readFileSync(new URL(`${folder}/${name}`, core), "utf8");
    return { path: `${folder}/${name}`, text };
  }),
);
const named = files.flatMap(({ path, text }) =>
  [...text.matchAll(/\b\w*[sS]ource(?:: | = )"([^"]+)"/g)].map((match) => ({
    path,
    key: match[1],
  })),
);

/** Files whose numbers are numerical method, bounds of arguments or built from other files. */
const withoutConstants = [
  "cylinder/content.ts",
  "flow/flow-uncertainty.ts",
  "flow/orifice-gauge.ts",
  "gases/composition.ts",
  "gases/density.ts",
  "gases/gas-data.ts",
  "gases/mixture.ts",
  "gases/powers-of-tau.ts",
  "gases/state-changes.ts",
  "regulator/throttling.ts",
  "safety/finding.ts",
  "safety/station-safety.ts",
  "units/pressure.ts",
  "units/quantity.ts",
];

describe("sources of constants", () => {
  test("keys in the bibliography are unique", () => {
    expect(new Set(keys).size).toBe(keys.length);
  });

  test.each(named)("$path names $key, which the bibliography has", ({ key }) => {
    expect(keys).toContain(key);
  });

  test("the bibliography lists nothing that no constant names", () => {
    const used = new Set(named.map(({ key }) => key));
    expect(keys.filter((key) => !used.has(key ?? ""))).toEqual([]);
  });

  test.each(files.filter(({ path }) => !withoutConstants.includes(path)))(
    "$path names the source of its constants",
    ({ path }) => {
      expect(named.filter((entry) => entry.path === path)).not.toEqual([]);
    },
  );

  test("every gas, viscosity, reference and catalogue row has a source in the bibliography", () => {
    const rows = [
      ...Object.values(gasData).flatMap((gas) => [gas.residualSource, gas.idealHeatCapacitySource]),
      ...Object.values(viscosityModels).map((model) => model.source),
      ...Object.values(referenceConditions).map((reference) => reference.source),
      ...catalogue.map((row) => row.source),
    ];
    expect(rows.length).toBeGreaterThan(40);
    for (const key of rows) {
      expect(keys).toContain(key);
    }
  });
});
