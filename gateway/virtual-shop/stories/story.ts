import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { PlantVariation } from "../plant/from-station.ts";
import type { Scene, Script } from "./script.ts";

/** When a story is set: the past that is made up first, and the moment at which visitors come in. */
export interface StoryTimes {
  /** Start of the made-up past, Unix seconds. */
  startS: number;
  /** When the past meets the present. */
  presentS: number;
}

/** One virtual station with its plot. */
export interface Story {
  /** What visitors see, in a sentence. */
  plot: string;
  station(site: string, times: StoryTimes): unknown;
  /** What the description does not say about the real thing. */
  variation(times: StoryTimes): PlantVariation;
  /** Dialled to this reading when the past begins. */
  reading: number;
  play(scene: Scene, times: StoryTimes): Script;
}

/** Checked document of a story's station. */
export type StoryStation = StationDocument;

/** Sensors that a node carries without being told anything: 250 bar and 10 bar, 0.5 %. */
export const usualSensors = {
  cylinder: {
    rangeBar: 250,
    accuracyPercentFs: 0.5,
    proofBar: 500,
    ratedFor: ["inert", "oxidising"],
  },
  line: { rangeBar: 10, accuracyPercentFs: 0.5, proofBar: 30, ratedFor: ["inert", "oxidising"] },
};

/** A heated hall on the water: mild and even. */
export const hallWeather = { meanC: 17, dailySwingK: 4, wanderK: 0.7 };
