import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { fullContentLitres } from "../display/gas-facts.ts";
import { figure } from "./figure.ts";

/** Figures as typed; empty means unknown. */
export type CostFields = Record<"starts" | "days" | "gas" | "postflow" | "part" | "stops", string>;

/** What a station already says of its costs, its fill's price and its own count of starts. */
export function startingFields(station: StationDocument, countedPerDay: number | null): CostFields {
  const { costs, cylinder, procedure } = station;
  const full = cylinder ? fullContentLitres(cylinder) : null;
  const perM3 =
    cylinder?.pricePerFill === undefined || full === null
      ? undefined
      : Number(((cylinder.pricePerFill / full) * 1000).toPrecision(3));
  const counted = countedPerDay === null ? undefined : Math.round(countedPerDay);
  const text = (value: number | undefined) => (value === undefined ? "" : String(value));
  return {
    starts: text(costs?.startsPerDay ?? counted),
    days: text(costs?.workdaysPerYear),
    gas: text(costs?.gasPerM3 ?? perM3),
    postflow: text(procedure?.postflowS),
    part: text(costs?.consumablePrice),
    stops: text(costs?.consumableStops),
  };
}

/** Starts, days and price as numbers; null where starts or days are not known. */
export function costInput(
  fields: CostFields,
): { startsPerDay: number; workdaysPerYear: number; pricePerLitre: number | null } | null {
  const startsPerDay = figure(fields.starts);
  const workdaysPerYear = figure(fields.days);
  const perM3 = figure(fields.gas);
  if (startsPerDay === null || workdaysPerYear === null) return null;
  return {
    startsPerDay,
    workdaysPerYear,
    pricePerLitre: perM3 === null ? null : perM3 / 1000,
  };
}
