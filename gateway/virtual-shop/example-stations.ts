import {
  type SiteDocument,
  type StationDocument,
  siteSchema,
  stationSchema,
} from "@leeward/shared-core/documents/station.ts";
import { stories } from "./stories/index.ts";
import type { StoryTimes } from "./stories/story.ts";

/** The site of the demo shop: a boatyard and its pipe shop. */
export function exampleSite(site = "boatyard"): SiteDocument {
  return siteSchema.parse({
    schema: 1,
    site,
    name: "Boatyard and pipe shop",
    timeZone: "UTC",
    currency: "EUR",
    units: { flow: "L/min", pressure: "bar", temperature: "C", reference: "metric20" },
  });
}

/**
 * Descriptions of the six virtual stations, each with one story.
 * @param times start of the made-up past and the present, Unix seconds; a fixed day where absent
 */
export function exampleStations(
  site = "boatyard",
  times: StoryTimes = { startS: 1764057600, presentS: 1764057600 + 3.5 * 3600 },
): StationDocument[] {
  return stories.map((story) => stationSchema.parse(story.station(site, times)));
}
