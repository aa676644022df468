import { PhysicsError, requireWithin } from "../errors.ts";
import { surgeMol } from "../flow/hose.ts";
import type { Composition } from "../gases/composition.ts";
import { createMixture } from "../gases/mixture.ts";
import { ATMOSPHERE_PA, BAR_PA, CELSIUS_ZERO_K } from "../units/factors.ts";
import { standardVolumeM3 } from "../units/reference-conditions.ts";

export interface SurgeInput {
  composition: Composition;
  hose: { lengthM: number; boreMm: number };
  /** Gauge pressure in the hose at rest, bar. */
  restBar: number;
  /** Gauge pressure in the hose while gas flows, bar. */
  flowingBar: number;
  /** Hose temperature, °C; 20 where absent. */
  hoseC?: number;
  startsPerDay: number;
  workdaysPerYear: number;
  /** Price of a standard litre (`metric20`); null where unknown. */
  pricePerLitre: number | null;
}

export interface SurgeCost {
  /** Blown out at each start beyond the flow that is wanted, `metric20` L. */
  litresPerStart: number;
  litresPerYear: number;
  costPerYear: number | null;
}

export type SurgeAnswer = { ok: true; value: SurgeCost } | { ok: false; why: string };

/** Gas wasted by what the hose stores above its flowing pressure, and its cost a year. */
export function startSurge(input: SurgeInput): SurgeAnswer {
  try {
    requireWithin("restBar", input.restBar, 0, 40);
    requireWithin("flowingBar", input.flowingBar, 0, 40);
    requireWithin("hose.lengthM", input.hose.lengthM, 0, 500);
    requireWithin("hose.boreMm", input.hose.boreMm, 0.5, 100);
    requireWithin("startsPerDay", input.startsPerDay, 0, 100_000);
    requireWithin("workdaysPerYear", input.workdaysPerYear, 0, 366);
    const mixture = createMixture(input.composition);
    const mol =
      input.restBar <= input.flowingBar
        ? 0
        : surgeMol(
            { lengthM: input.hose.lengthM, boreM: input.hose.boreMm / 1000 },
            mixture,
            input.restBar * BAR_PA + ATMOSPHERE_PA,
            input.flowingBar * BAR_PA + ATMOSPHERE_PA,
            (input.hoseC ?? 20) + CELSIUS_ZERO_K,
          );
    const litresPerStart = standardVolumeM3(mol, mixture, "metric20") * 1000;
    const litresPerYear = litresPerStart * input.startsPerDay * input.workdaysPerYear;
    return {
      ok: true,
      value: {
        litresPerStart,
        litresPerYear,
        costPerYear: input.pricePerLitre === null ? null : litresPerYear * input.pricePerLitre,
      },
    };
  } catch (error) {
    if (error instanceof PhysicsError) return { ok: false, why: error.message };
    throw error;
  }
}

/**
 * What a lower pressure at rest would save a year: a restrictor near the regulator, or less line
 * pressure. Both costs use the same starts.
 */
export function surgeSaving(now: SurgeInput, restBar: number): SurgeAnswer {
  const before = startSurge(now);
  const after = startSurge({ ...now, restBar });
  if (!before.ok) return before;
  if (!after.ok) return after;
  const cost = (a: number | null, b: number | null) => (a === null || b === null ? null : a - b);
  return {
    ok: true,
    value: {
      litresPerStart: before.value.litresPerStart - after.value.litresPerStart,
      litresPerYear: before.value.litresPerYear - after.value.litresPerYear,
      costPerYear: cost(before.value.costPerYear, after.value.costPerYear),
    },
  };
}
