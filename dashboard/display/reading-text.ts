import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { explainWords } from "../language/explain-words.ts";
import type { Reading } from "./explain.ts";
import { measuredPa } from "./measured-pressure.ts";
import { linePressureText, pressureText, temperatureText } from "./numbers.ts";
import type { UnitChoice } from "./units.ts";

/** `line pressure 3.45 bar`: a reading that a figure rests on, the same as beside the figure. */
export function readingText(view: StationView, reading: Reading, chosen: UnitChoice): string {
  const estimate = view.estimate;
  const value = {
    "cylinder-pressure": pressureText(measuredPa(view, "cylinder"), chosen),
    "line-pressure": linePressureText(measuredPa(view, "line"), chosen),
    "cylinder-temperature": temperatureText(estimate?.measured?.cylinderC, chosen),
    "regulator-temperature": temperatureText(estimate?.regulatorC, chosen),
    arc: "",
  }[reading];
  return `${explainWords.readings[reading]} ${value}`.trim();
}
