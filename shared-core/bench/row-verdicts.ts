import { flowFraction } from "../flow/restriction.ts";
import { ATMOSPHERE_PA, BAR_PA } from "../units/factors.ts";
import { type BenchWords, percent } from "./bench-words.ts";
import type { BenchDevice } from "./device-model.ts";
import { restrictionOf } from "./device-operation.ts";
import { type ReadingsFit, type RowPrediction, stateOf } from "./fit-readings.ts";
import type { LackOfFit, Suspect } from "./lack-of-fit.ts";
import type { BenchReading } from "./readings.ts";

/** What the fit says of one row. */
export interface RowVerdict {
  row: number;
  cylinderBar: number | null;
  action: BenchReading["action"] | null;
  /** Observed over expected, percent: of the true flow where measured, else of the reading. */
  residual: number | null;
  residualIndicated: number | null;
  residualTrue: number | null;
  residualLineBar: number | null;
  /** True where the row took no part in the fit. */
  leftOut: boolean;
  /** `redo`: cannot be used or disagrees; `ask`: a question; `fits`. */
  status: "fits" | "disagrees" | "unusable";
  verdict: string;
}

export function rowVerdicts(input: {
  device: BenchDevice;
  words: BenchWords;
  usable: readonly BenchReading[];
  refused: readonly { row: number; why: string }[];
  lack: LackOfFit;
}): RowVerdict[] {
  const { device, words, usable, refused, lack } = input;
  const rows = usable.map((reading): RowVerdict => {
    const suspect = lack.suspects.find((one) => one.row === reading.row);
    const inFit = lack.fit.rows.find((row) => row.reading.row === reading.row);
    const prediction = suspect ? suspect.prediction : (inFit ?? null);
    const figures = residuals(prediction);
    return {
      row: reading.row,
      cylinderBar: reading.cylinderPa / BAR_PA,
      action: reading.action,
      ...figures,
      leftOut: suspect !== undefined,
      status: suspect || !lack.resolved ? "disagrees" : "fits",
      verdict: suspect
        ? suspectVerdict(device, words, reading, suspect)
        : fitVerdict({ device, words, reading, row: inFit, lack }),
    };
  });
  const unusable = refused.map(({ row, why }) => rowWithout(row, null, null, "unusable", why));
  return [...rows, ...unusable].sort((a, b) => a.row - b.row);
}

/** A row of which only a verdict can be given. */
export function rowWithout(
  row: number,
  cylinderBar: number | null,
  action: RowVerdict["action"],
  status: RowVerdict["status"],
  verdict: string,
): RowVerdict {
  return { row, cylinderBar, action, ...residuals(null), leftOut: true, status, verdict };
}

/** One paragraph on why the rows do not come from one device. */
export function verdictWhy(
  lack: LackOfFit,
  refused: readonly { row: number; why: string }[],
): string {
  const parts = refused.map(({ row, why }) => `row ${row} was not used: ${why}`);
  for (const suspect of lack.suspects) {
    const fits =
      suspect.fitsIf.length > 0 ? `; row ${suspect.row} fits if ${list(suspect.fitsIf)}` : "";
    parts.push(`row ${suspect.row} cannot come from the same device as the others${fits}`);
  }
  if (lack.suspects.length > 0 && lack.rivals.length > 0) {
    parts.push(
      `the rows alone do not say which is wrong: without row ${list(lack.rivals.map(String), " or ")} the rest agrees too`,
    );
  }
  if (lack.suspects.length > 0) {
    parts.push(
      `the fit rests on the other rows; repeat row ${list(
        lack.suspects.map((one) => String(one.row)),
        " and ",
      )}`,
    );
  }
  if (!lack.resolved) {
    parts.push(
      "the rows contradict each other, and no few of them are to blame: check units, columns and whether anything was turned; no card is given",
    );
  }
  if (lack.fileFitsIf.length > 0) parts.push(`all rows fit if ${list(lack.fileFitsIf)}`);
  return parts.join("; ");
}

function residuals(
  prediction: RowPrediction | null,
): Pick<RowVerdict, "residual" | "residualIndicated" | "residualTrue" | "residualLineBar"> {
  const shown = prediction?.indicatedResidual ?? null;
  const measured = prediction?.trueResidual ?? null;
  const line = prediction?.lineResidualPa ?? null;
  const hundred = (part: number | null) => (part === null ? null : part * 100);
  return {
    residual: hundred(measured ?? shown),
    residualIndicated: hundred(shown),
    residualTrue: hundred(measured),
    residualLineBar: line === null ? null : line / BAR_PA,
  };
}

function fitVerdict(input: {
  device: BenchDevice;
  words: BenchWords;
  reading: BenchReading;
  row: RowPrediction | undefined;
  lack: LackOfFit;
}): string {
  const { device, words, reading, row, lack } = input;
  if (!row) return "took no part";
  const parts: string[] = [];
  if (row.trueResidual !== null) {
    parts.push(`true flow ${percent(row.trueResidual)} against the fit`);
  } else if (row.indicatedResidual !== null) {
    parts.push(`reading ${percent(row.indicatedResidual)} against the fit`);
  }
  const head = lack.resolved ? "fits" : "the rows contradict each other";
  const tube = tubeRemark(device, words, reading);
  if (tube) parts.push(tube);
  if (!row.operating.choked) parts.push(unchoked(lack.fit, device, row));
  return `${head}: ${parts.join("; ")}`;
}

function suspectVerdict(
  device: BenchDevice,
  words: BenchWords,
  reading: BenchReading,
  suspect: Suspect,
): string {
  const parts = ["cannot come from the same device as the others"];
  const { prediction } = suspect;
  if (prediction?.indicatedResidual != null && Math.abs(prediction.indicatedResidual) > 0.03) {
    parts.push(
      `the others expect a reading of ${words.flow(prediction.operating.indicatedM3PerS)} here, not ${words.flow(reading.indicatedM3PerS!)}`,
    );
  }
  if (prediction?.trueResidual != null && Math.abs(prediction.trueResidual) > 0.03) {
    const expected = reading.trueM3PerS! / (1 + prediction.trueResidual);
    parts.push(
      `the others expect a true flow of ${words.flow(expected)} here, not ${words.flow(reading.trueM3PerS!)}`,
    );
  }
  const tube = tubeRemark(device, words, reading);
  if (tube) parts.push(tube);
  for (const text of suspect.fitsIf) parts.push(`row ${reading.row} fits if ${text}`);
  const also = physicalCauses(device, words, reading, prediction);
  if (also.length > 0) parts.push(`otherwise: ${list(also, ", or ")}`);
  return parts.join("; ");
}

/** What besides a slip of the pen would explain a row. */
function physicalCauses(
  device: BenchDevice,
  words: BenchWords,
  reading: BenchReading,
  prediction: RowPrediction | null,
): string[] {
  const causes: string[] = [];
  const top = device.scaleMaxM3PerS;
  const shown = reading.indicatedM3PerS;
  if (device.tube && shown !== null && top !== null && shown < top / 3) {
    causes.push(
      `the float is in the lower third of its scale (below ${words.flow(top / 3)}), where it is not trustworthy`,
    );
  }
  if (device.dial) {
    causes.push("the nozzle or hose was blocked, or some of the flow passed the meter by");
  }
  const usual = Math.exp(
    device.priors.find((prior) => prior.name === "delivery-pressure")?.mean ??
      Math.log(4.5 * BAR_PA),
  );
  if (reading.cylinderPa + ATMOSPHERE_PA < 5 * usual) {
    causes.push(
      `the regulator is out of its range at ${words.pressure(reading.cylinderPa)} of cylinder pressure`,
    );
  }
  const ratio = prediction
    ? prediction.operating.hosePa / prediction.operating.deliveryPa
    : (device.atmospherePa + 35_000) / usual;
  if (ratio > 0.4)
    causes.push("the flow is no longer choked, so that the hose's back pressure counts");
  return causes;
}

/** A tube that passes far more or less than it shows says at what pressure it stands. */
function tubeRemark(device: BenchDevice, words: BenchWords, reading: BenchReading): string | null {
  if (!device.tube || reading.indicatedM3PerS === null || reading.trueM3PerS === null) return null;
  const gas = Math.sqrt(device.mixture.molarMassKgPerMol / device.tube.mixture.molarMassKgPerMol);
  const ratio = ((reading.trueM3PerS / reading.indicatedM3PerS) * gas) ** 2;
  if (Math.abs(ratio - 1) < 0.15) return null;
  const impliedPa = ratio * device.tube.pressurePa - device.atmospherePa;
  return `says that the tube stands at ${ratio.toFixed(2)} of its scale's absolute pressure (${words.pressure(impliedPa)} gauge, where the scale was made for ${words.pressure(device.tube.pressurePa - ATMOSPHERE_PA)})`;
}

function unchoked(fit: ReadingsFit, device: BenchDevice, row: RowPrediction): string {
  const restriction = restrictionOf(device, stateOf(device, fit.vector, fit.settings, row.setting));
  const part = flowFraction(restriction, row.operating.hosePa / row.operating.deliveryPa);
  return `not choked (${(part * 100).toFixed(0)} % of the choked flow), so that the hose's back pressure counts`;
}

function list(texts: readonly string[], last = ", or if "): string {
  return texts.length < 2
    ? texts.join("")
    : `${texts.slice(0, -1).join(", ")}${last}${texts.at(-1)}`;
}
