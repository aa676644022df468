import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";

/** Things that this station's sensors cannot tell; each has its words in the language file. */
export type Blind =
  | "nozzle"
  | "hose"
  | "seal"
  | "draught"
  | "wrong-gas"
  | "no-arc-signal"
  | "no-line-sensor"
  | "liquid"
  | "leak-side";

/**
 * What two pressures cannot tell here. A tap before the restriction cannot see what happens after
 * it; a tap on the hose can.
 */
export function cannotSee(
  station: StationDocument,
  estimate: Estimate | null,
  liquid: boolean,
): Blind[] {
  const list: Blind[] = [];
  if (!station.sensors?.line) list.push("no-line-sensor");
  if (station.lineTap !== "hose" || !station.sensors?.line) list.push("nozzle", "hose", "seal");
  list.push("draught", "wrong-gas");
  if (estimate?.measured?.arc === null || estimate?.measured?.arc === undefined) {
    list.push("no-arc-signal");
  }
  if (liquid) list.push("liquid");
  return list;
}

/** Where the true flow is known to pass: the regulator, or the hose where its tap is there. */
export function flowPlace(station: StationDocument): "regulator" | "hose" {
  return station.lineTap === "hose" ? "hose" : "regulator";
}
