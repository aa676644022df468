import { CFH_M3_PER_S, LITRE_PER_MINUTE_M3_PER_S } from "../units/factors.ts";
import { referenceConditions } from "../units/reference-conditions.ts";
import type { BenchWords } from "./bench-words.ts";
import type { BenchReading } from "./readings.ts";

/** A recording mistake that somebody may have made; asked about, never applied by itself. */
export interface Supposition {
  /** Ends the sentence "row 3 fits if …". */
  text: string;
  readings: BenchReading[];
  /** True where it frees the row from the others, so that it would nearly always fit. */
  frees: boolean;
}

/** `us` cubic feet an hour in `metric20` L/min. */
const CFH_IN_LPM =
  (CFH_M3_PER_S / LITRE_PER_MINUTE_M3_PER_S) *
  ((referenceConditions.us.pressurePa / referenceConditions.metric20.pressurePa) *
    (referenceConditions.metric20.temperatureK / referenceConditions.us.temperatureK));

/** What may have gone wrong in writing down one row. */
export function rowSuppositions(
  readings: readonly BenchReading[],
  index: number,
  words: BenchWords,
): Supposition[] {
  const reading = readings[index]!;
  const { indicatedM3PerS: shown, trueM3PerS: measured } = reading;
  const found: Supposition[] = [];
  const suppose = (text: string, change: Partial<BenchReading>, frees = false) =>
    found.push({
      text,
      frees,
      readings: readings.map((one, k) => (k === index ? { ...one, ...change } : one)),
    });
  if (shown !== null && measured !== null) {
    suppose(`${words.flow(shown)} was the true flow (indicated and true exchanged)`, {
      indicatedM3PerS: measured,
      trueM3PerS: shown,
    });
  }
  if (shown !== null && measured !== null && reading.action === "left") {
    // A row left alone is tied to the others by each of its figures: one of them may be right.
    suppose(
      `its true flow of ${words.flow(measured)} is right and its reading is not`,
      { indicatedM3PerS: null },
      true,
    );
    suppose(
      `its reading of ${words.flow(shown)} is right and its true flow is not`,
      { trueM3PerS: null },
      true,
    );
  }
  if (shown !== null && measured === null) {
    suppose(`${words.flow(shown)} was the true flow, not the reading`, {
      indicatedM3PerS: null,
      trueM3PerS: shown,
    });
  }
  if (shown === null && measured !== null) {
    suppose(`${words.flow(measured)} was the reading, not the true flow`, {
      indicatedM3PerS: measured,
      trueM3PerS: null,
      indicatedSigma: 0.01,
    });
  }
  if (shown !== null) {
    const [by, text] = otherUnit(words, "reading");
    suppose(text, { indicatedM3PerS: shown * by });
  }
  if (measured !== null) {
    const [by, text] = otherUnit(words, "true flow");
    suppose(text, { trueM3PerS: measured * by });
    const zero =
      referenceConditions.metric20.temperatureK / referenceConditions.normal.temperatureK;
    suppose("its meter referred to 0 °C", { trueM3PerS: measured * zero });
    suppose("its meter referred to 20 °C and was taken for 0 °C", { trueM3PerS: measured / zero });
  }
  suppose("its cylinder pressure was written in the other unit (bar, psi)", {
    cylinderPa:
      reading.cylinderPa * 14.5 < 330e5 ? reading.cylinderPa * 14.5 : reading.cylinderPa / 14.5,
  });
  if (reading.action === "left" && index > 0) {
    suppose("the device was turned before it", { action: "redialled" }, true);
  }
  return found;
}

/** What may have gone wrong in the whole file. */
export function fileSuppositions(
  readings: readonly BenchReading[],
  words: BenchWords,
): Supposition[] {
  const all = (
    text: string,
    change: (one: BenchReading) => Partial<BenchReading>,
  ): Supposition => ({
    text,
    frees: false,
    readings: readings.map((one) => ({ ...one, ...change(one) })),
  });
  const scaled = (value: number | null, by: number) => (value === null ? null : value * by);
  const [byReading, readingText] = otherUnit(words, "reading");
  const [byTrue, trueText] = otherUnit(words, "true flow");
  return [
    all(readingText.replace("reading was", "readings were"), (one) => ({
      indicatedM3PerS: scaled(one.indicatedM3PerS, byReading),
    })),
    all(trueText.replace("flow was", "flows were"), (one) => ({
      trueM3PerS: scaled(one.trueM3PerS, byTrue),
    })),
    all("the columns of indicated and true flow were exchanged", (one) => ({
      indicatedM3PerS: one.trueM3PerS,
      trueM3PerS: one.indicatedM3PerS,
    })),
  ];
}

/** A figure taken for the device's unit that was in the other one. */
function otherUnit(words: BenchWords, what: string): [by: number, text: string] {
  return words.flowUnit === "CFH"
    ? [1 / CFH_IN_LPM, `its ${what} was in L/min`]
    : [CFH_IN_LPM, `its ${what} was in CFH`];
}
