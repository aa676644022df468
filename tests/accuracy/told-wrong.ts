import type { PlantFill } from "../../gateway/virtual-shop/plant/config.ts";
import type { PlantVariation } from "../../gateway/virtual-shop/plant/from-station.ts";
import type { Scenario } from "./simulate.ts";
import { tigStation } from "./stations.ts";

/** Stations of which somebody told something wrong: a fill, or the size of the cylinder. */

type Make = (
  name: string,
  about: string,
  rest: Partial<Scenario> & { more?: PlantVariation },
) => Scenario;

const litres = (waterVolumeL: number) => tigStation({ cylinder: { waterVolumeL } });

/** Runs down, then `fill` is fitted and told as a full one of the kind described. */
function changes(from: number, fill: PlantFill) {
  return {
    breaks: true,
    more: { presentBar: from },
    hours: 6,
    habits: () => ({
      workS: [1500, 5400] as [number, number],
      swapBelowPa: 12e5,
      arcS: [60, 240] as [number, number],
      fill,
    }),
  };
}

export function toldWrong(make: Make): Scenario[] {
  const full = { gaugePa: 200e5, temperatureK: 290 };
  return [
    make("told-full", "told as full, but it holds 45 bar", {
      ...changes(24, { gaugePa: 45e5, temperatureK: 290 }),
    }),
    make("fitted-20", "50 L described and told, a full 20 L is fitted", {
      ...changes(28, { ...full, waterVolumeM3: 0.02 }),
    }),
    make("fitted-50", "20 L described and told, a full 50 L is fitted", {
      ...changes(50, { ...full, waterVolumeM3: 0.05 }),
      station: litres(20),
    }),
    make("begun-20", "50 L described, 20 L stands there from the start", {
      breaks: true,
      more: { volumeFactor: 0.4, presentBar: 150 },
    }),
  ];
}
