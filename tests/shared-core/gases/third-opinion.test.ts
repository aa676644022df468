import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { Composition } from "../../../shared-core/gases/composition.ts";
import { createMixture } from "../../../shared-core/gases/mixture.ts";
import { densityRelativeSigmaAt } from "../../../shared-core/gases/model-uncertainty.ts";

/**
 * CoolProp 8.0, a general-purpose open-source library: reference equations of other authors for
 * argon (Tegeler 1999) and CO2 (Span & Wagner 1996), and a multi-fluid model for their mixtures.
 * Not GERG-2008, so the difference shows how far to trust the equation itself. The values are the
 * nodes of the tables that the simulated plant reads (source note beside them).
 */
const gases: ReadonlyArray<{ table: string; composition: Composition }> = [
  { table: "Ar", composition: { Ar: 1 } },
  { table: "ArC8", composition: { Ar: 0.92, CO2: 0.08 } },
  { table: "ArC18", composition: { Ar: 0.82, CO2: 0.18 } },
  { table: "ArC25", composition: { Ar: 0.75, CO2: 0.25 } },
  { table: "CO2", composition: { CO2: 1 } },
];

interface GasTable {
  T0: number;
  dT: number;
  nT: number;
  dr: number;
  nr: number;
  M: number;
  Z: number[][];
  u: number[][];
  sat?: number[][];
}

/** J/(mol K), as the tables' note states it. */
const gasConstant = 8.314462618;

interface Node {
  name: string;
  composition: Composition;
  temperatureK: number;
  densityMolPerM3: number;
  pressurePa: number;
  /** Isochoric heat capacity from the neighbouring nodes of the internal energy, J/(mol K). */
  cvJPerMolK: number;
}

/**
 * Every third temperature where a cylinder may live (-25 to 55 °C) and every sixth density,
 * clear of CO2's liquid and of the table's edge.
 */
function nodesOf({ table, composition }: (typeof gases)[number]): Node[] {
  const file = new URL(
    `../../../gateway/virtual-shop/plant/gas-tables/${table}.json`,
    import.meta.url,
  );
  const data = JSON.parse(readFileSync(file, "utf8")) as GasTable;
  const nodes: Node[] = [];
  for (let i = 1; i < data.nT - 1; i += 3) {
    const temperatureK = data.T0 + i * data.dT;
    if (temperatureK < 248 || temperatureK > 328.15) continue;
    const vapour = data.sat?.find((row) => Math.abs((row[0] as number) - temperatureK) < data.dT);
    const limitMolPerL =
      data.sat && temperatureK < 306 ? ((vapour?.[3] as number) ?? 0) * 0.95 : 13;
    for (let j = 2; j < data.nr && j * data.dr < limitMolPerL; j += 6) {
      const densityMolPerM3 = j * data.dr * 1000;
      const above = (data.u[i + 1] as number[])[j] as number;
      const below = (data.u[i - 1] as number[])[j] as number;
      const z = (data.Z[i] as number[])[j] as number;
      const pressurePa = z * densityMolPerM3 * gasConstant * temperatureK;
      // GERG-2008's normal range ends at 35 MPa.
      if (pressurePa > 35e6) continue;
      nodes.push({
        name: `${table} at ${temperatureK} K, ${(j * data.dr).toFixed(2)} mol/L`,
        composition,
        temperatureK,
        densityMolPerM3,
        pressurePa,
        cvJPerMolK: (above - below) / (2 * data.dT),
      });
    }
  }
  return nodes;
}

const nodes = gases.flatMap(nodesOf);

/** Relative tolerances of pressure and cv: published accuracy for pure gases, wider for mixtures and near CO2's critical point. */
function tolerances(composition: Composition): [number, number] {
  const carbonDioxide = composition.CO2 ?? 0;
  return carbonDioxide > 0 && carbonDioxide < 1 ? [0.015, 0.07] : [0.003, 0.015];
}

describe("a third opinion: CoolProp 8.0", () => {
  test("every gas has its nodes", () => {
    for (const { table } of gases) {
      expect(nodes.filter(({ name }) => name.startsWith(`${table} `)).length).toBeGreaterThan(20);
    }
  });

  test.each(nodes)("$name", ({ composition, temperatureK, densityMolPerM3, ...expected }) => {
    const answer = createMixture(composition).stateAtDensity(densityMolPerM3, temperatureK);
    if (!answer.ok) throw answer.error;
    const [pressure, heat] = tolerances(composition);
    expect(Math.abs(answer.value.pressurePa / expected.pressurePa - 1)).toBeLessThan(pressure);
    expect(Math.abs(answer.value.cvJPerMolK / expected.cvJPerMolK - 1)).toBeLessThan(heat);
  });

  test("the stated model uncertainty covers the difference: within 2 sigma nearly everywhere", () => {
    const covered = nodes.filter(({ composition, temperatureK, densityMolPerM3, pressurePa }) => {
      const mixture = createMixture(composition);
      const actual = mixture.densityMolPerM3(pressurePa, temperatureK, densityMolPerM3);
      const sigma = densityRelativeSigmaAt(mixture, pressurePa, temperatureK);
      return Math.abs(actual / densityMolPerM3 - 1) <= 2 * sigma;
    });
    expect(covered.length / nodes.length).toBeGreaterThan(0.95);
  });
});
