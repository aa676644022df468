import { saturatedVapourKgPerM3 } from "@leeward/shared-core/gases/co2-saturation.ts";
import type { Run } from "./simulate.ts";

/**
 * What nobody can know of a liquid's content: its pressure tells nothing of it, so that what the
 * scale of the flow is wrong by adds up in the count until the liquid is gone.
 */

/**
 * Error, in litres (`metric20`), of a count that starts at the true content, dates each gas-on and
 * knows pressures and temperatures perfectly, but takes the float at its word. None once the liquid
 * is gone: the gas's own pressure tells from then on.
 *
 * @returns null for a cylinder that never held liquid, or a device without a float
 */
export function scaleLeftLitres(run: Run, truth: Run["lines"][number]["truth"]): number | null {
  const { cylinder } = run.scenario.station;
  const device = run.plant.config.drops[0]?.device;
  if (!cylinder || !("filledKg" in cylinder) || device?.kind !== "variable-area") return null;
  const vapourKg =
    saturatedVapourKgPerM3(truth.gasC + 273.15) * run.plant.config.cylinder.waterVolumeM3;
  if (truth.contentKg <= vapourKg) return 0;
  const drawn = (run.lines[0]?.truth.contentLitres ?? 0) - truth.contentLitres;
  return Math.abs(device.floatFactor - 1) * drawn;
}
