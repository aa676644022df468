import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { signal } from "@preact/signals";
import { connection, fromMemory, nowS, speed } from "../api/store.ts";
import { type Freshness, freshness } from "../display/freshness.ts";

/** Freshness of a station as of this second. */
export function freshnessOf(view: StationView): Freshness {
  return freshness({
    connection: fromMemory.value ? "lost" : connection.value,
    t: view.estimate?.t ?? null,
    mode: view.estimate?.mode ?? null,
    nowS: nowS.value,
    paceS: view.paceS,
    speed: speed.value,
  });
}

/** Contents of full cylinders by their description; filled in as they are worked out. */
const fullContents = signal<ReadonlyMap<string, number | null>>(new Map());
const asked = new Set<string>();

/**
 * What this station's cylinder holds when full, `metric20` litres. The gas equation is fetched
 * when first needed, apart from the first view; until then null.
 */
export function fullContentOf(view: StationView): number | null {
  const cylinder = view.description.cylinder;
  if (!cylinder) return null;
  const key = JSON.stringify(cylinder);
  const known = fullContents.value.get(key);
  if (known === undefined && !asked.has(key)) {
    asked.add(key);
    void import("../display/full-content.ts").then(({ fullContentLitres }) => {
      fullContents.value = new Map(fullContents.value).set(key, fullContentLitres(cylinder));
    });
  }
  return known ?? null;
}

/** Liquid CO2 may be in the cylinder, so that its pressure says nothing about the content. */
export function mayHoldLiquid(view: StationView): boolean {
  const cylinder = view.description.cylinder;
  const content = view.estimate?.content;
  if (!cylinder || !("filledKg" in cylinder) || !content) return false;
  if (content.litres === null || content.low === undefined || content.high === undefined) {
    return true;
  }
  if (content.low === null || content.high === null) return true;
  return content.high - content.low > 0.25 * content.litres;
}
