import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { measuredAtS } from "@leeward/shared-core/estimation/age-limit.ts";
import { signal } from "@preact/signals";
import { connection, fromMemory, nowS, speed } from "../api/store.ts";
import { ageInWords } from "../display/durations.ts";
import { type Freshness, freshness } from "../display/freshness.ts";

/** Freshness of a station as of this second. */
export function freshnessOf(view: StationView): Freshness {
  return freshness({
    connection: fromMemory.value ? "lost" : connection.value,
    t: dataT(view),
    mode: view.estimate?.mode ?? null,
    nowS: nowS.value,
    paceS: view.paceS,
    speed: speed.value,
  });
}

/** When what is shown was measured, Unix s; null where there is nothing. */
export function dataT(view: StationView): number | null {
  const { estimate, node } = view;
  if (!estimate) return null;
  return measuredAtS(
    estimate,
    node.lastSample === null ? null : Date.parse(node.lastSample) / 1000,
  );
}

/**
 * What a picture of this station hangs on besides its values: live, old, and where its age is read,
 * the age in words. It changes seldom, so that nothing is drawn anew each second for nothing.
 */
export function freshnessWords(view: StationView, withAge: boolean): string {
  const { state, ageS } = freshnessOf(view);
  return state === "old" && withAge && ageS !== null ? `${state} ${ageInWords(ageS)}` : state;
}

type GasFacts = typeof import("../display/gas-facts.ts");

/** The gas equation, fetched when first needed, apart from the first view. */
const gasFacts = signal<GasFacts | null>(null);
let asked = false;

function facts(): GasFacts | null {
  if (!asked) {
    asked = true;
    void import("../display/gas-facts.ts").then((module) => {
      gasFacts.value = module;
    });
  }
  return gasFacts.value;
}

const fullContents = new Map<string, number | null>();

/** What this station's cylinder holds when full, `metric20` litres; null until it is known. */
export function fullContentOf(view: StationView): number | null {
  const cylinder = view.description.cylinder;
  const module = facts();
  if (!cylinder || !module) return null;
  const key = JSON.stringify(cylinder);
  const known = fullContents.get(key);
  if (known !== undefined) return known;
  const litres = module.fullContentLitres(cylinder);
  fullContents.set(key, litres);
  return litres;
}

/** Liquid CO2 may be in the cylinder, so that its pressure says nothing about the content. */
export function mayHoldLiquid(view: StationView): boolean {
  const cylinder = view.description.cylinder;
  if (!cylinder || !("filledKg" in cylinder)) return false;
  const measured = view.estimate?.measured;
  return facts()?.mayBeLiquid(cylinder, measured?.cylinderPa, measured?.cylinderC) ?? true;
}
