import type { CylinderRecord } from "@leeward/shared-core/api/rack.ts";
import type { CylinderDocument } from "@leeward/shared-core/documents/cylinder.ts";
import type { PersonEntry } from "@leeward/shared-core/estimation/engine.ts";
import { createMixture } from "@leeward/shared-core/gases/mixture.ts";
import { absolutePressurePa } from "@leeward/shared-core/units/atmosphere.ts";
import { BAR_PA, CELSIUS_ZERO_K } from "@leeward/shared-core/units/factors.ts";
import { standardDensityMolPerM3 } from "@leeward/shared-core/units/reference-conditions.ts";

/** What a description says of a cylinder of the rack; what the rack does not know stays as described. */
export function snapshotOf(
  record: CylinderRecord,
  described: CylinderDocument | null,
): CylinderDocument {
  const shared = {
    gas: record.gas,
    composition: record.composition,
    waterVolumeL: record.waterVolumeL,
    waterVolumeUPercent: record.waterVolumeUPercent ?? described?.waterVolumeUPercent ?? 2,
    count: 1,
    ...optional("residualBar", record.residualBar ?? described?.residualBar),
    ...optional("pricePerFill", record.pricePerFill ?? described?.pricePerFill),
    ...(record.lot === "" ? {} : { lot: record.lot }),
  };
  if (record.filledKg !== undefined) {
    return { ...shared, filledKg: record.filledKg, ...optional("tareKg", record.tareKg) };
  }
  return { ...shared, filledBar: record.filledBar ?? 0, filledC: record.filledC ?? 15 };
}

function optional<K extends string, V>(key: K, value: V | undefined): { [P in K]?: V } {
  return value === undefined ? {} : ({ [key]: value } as { [P in K]?: V });
}

/** What is said to the estimator when this cylinder is fitted full. */
export function swapOf(record: CylinderRecord): NonNullable<PersonEntry["swap"]> {
  return {
    serial: record.serial,
    ...(record.lot === "" ? {} : { lot: record.lot }),
    ...(record.filledKg === undefined
      ? { ...optional("filledBar", record.filledBar), filledC: record.filledC ?? 15 }
      : { filledKg: record.filledKg }),
  };
}

/** Content when full, `metric20` L, by the real-gas density; null outside the equation's range. */
export function fullLitres(record: CylinderRecord): number | null {
  try {
    const mixture = createMixture(record.composition);
    const standard = standardDensityMolPerM3(mixture, "metric20");
    if (record.filledKg !== undefined) {
      return ((record.filledKg / mixture.molarMassKgPerMol) * 1000) / standard;
    }
    const density = mixture.densityMolPerM3(
      absolutePressurePa((record.filledBar ?? 0) * BAR_PA),
      (record.filledC ?? 15) + CELSIUS_ZERO_K,
    );
    return (density / standard) * record.waterVolumeL;
  } catch {
    return null;
  }
}
