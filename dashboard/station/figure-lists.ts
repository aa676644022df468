import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { Quantiles } from "@leeward/shared-core/estimation/estimate.ts";
import { nowS } from "../api/store.ts";
import { reasonText } from "../display/alarm-text.ts";
import { ageInWords, minutesBoundsInWords, minutesInWords } from "../display/durations.ts";
import type { ExplainedField } from "../display/explain.ts";
import { measuredPa } from "../display/measured-pressure.ts";
import {
  DASH,
  fixed,
  flowFigure,
  linePressureText,
  pressureText,
  temperatureText,
  volumeFigure,
  volumeText,
} from "../display/numbers.ts";
import { pressureInUnit, type UnitChoice, volumeUnit } from "../display/units.ts";
import { cylinderLine, gasName, procedureLine } from "../display/weld-line.ts";
import { words } from "../language/words.ts";

export interface Figure {
  name: string;
  field: string;
  value: string;
  note?: string | undefined;
  /** Why it is missing or doubted. */
  why?: string | null | undefined;
  /** A text, not a number. */
  text?: boolean;
  /** What a tap on it explains. */
  explains?: ExplainedField;
}

/** What the sensors read. */
export function measuredFigures(view: StationView, units: UnitChoice): Figure[] {
  const measured = view.estimate?.measured;
  const names = words.station.figures;
  const arc = measured?.arc;
  // A dash has its reason.
  const notMeasured = (value: number | null | undefined) =>
    value == null ? names.notMeasured : undefined;
  const list: Figure[] = [
    {
      name: names.cylinder,
      field: "cylinder-pressure-measured",
      explains: "cylinder-pressure",
      value: pressureText(measuredPa(view, "cylinder"), units),
    },
    {
      name: names.line,
      field: "line-pressure",
      explains: "line-pressure",
      value: linePressureText(measuredPa(view, "line"), units),
      note: view.description.sensors?.line ? undefined : names.noSensor,
    },
    {
      name: names.cylinderC,
      field: "cylinder-temperature",
      explains: "temperature",
      value: temperatureText(measured?.cylinderC, units),
      note: notMeasured(measured?.cylinderC),
    },
    {
      name: names.regulatorC,
      field: "regulator-temperature",
      explains: "temperature",
      value: temperatureText(view.estimate?.regulatorC, units),
      note: notMeasured(view.estimate?.regulatorC),
    },
    {
      name: names.ambientC,
      field: "ambient-temperature",
      explains: "temperature",
      value: temperatureText(measured?.ambientC, units),
      note: notMeasured(measured?.ambientC),
    },
  ];
  if (arc !== null && arc !== undefined) {
    list.push({ name: names.arc, field: "arc", value: arc ? names.arcOn : names.arcOff });
  }
  return list;
}

/** What the estimate says, each with its interval and why it is doubted. */
export function estimatedFigures(view: StationView, units: UnitChoice): Figure[] {
  const estimate = view.estimate;
  const names = words.station.figures;
  if (!estimate) return [];
  const { content, flow, leak, remaining } = estimate;
  const bases: Readonly<Record<string, string>> = words.flow.basis;
  const leakText =
    leak.litresPerMinute === null
      ? leak.side === null
        ? DASH
        : names.leakUnmeasured
      : leak.side === null
        ? names.leakNone
        : `${flowFigure(leak.litresPerMinute, units)} ${units.flow}`;
  return [
    {
      name: names.content,
      field: "content",
      explains: "content",
      value: volumeText(content.litres, units),
      note: bounds(content.low, content.high, units),
      why: content.why && reasonText(content.why, units),
    },
    {
      name: names.usable,
      field: "usable",
      explains: "usable",
      value: volumeText(content.usableLitres, units),
    },
    timeFigure(names.gasOn, "gas-on-minutes", "left", remaining.gasOnMinutes, units),
    timeFigure(names.atTarget, "at-target-minutes", "left", remaining.atTargetMinutes, units),
    timeFigure(names.clock, "clock-minutes", "clock", remaining.clockMinutes, units),
    {
      name: names.leak,
      field: "leak",
      explains: "leak",
      value: leakText,
      note: (leak.why && reasonText(leak.why, units)) ?? names.leakTested[leak.tested],
    },
    {
      name: names.basis,
      field: "basis",
      explains: "flow",
      value: flow.basis ? (bases[flow.basis] ?? flow.basis) : DASH,
      note: flow.why && reasonText(flow.why, units),
      text: true,
    },
  ];
}

function timeFigure(
  name: string,
  field: string,
  explains: ExplainedField,
  quantiles: Quantiles,
  units: UnitChoice,
): Figure {
  const { median, low, high, why } = quantiles;
  return {
    name,
    field,
    explains,
    value: median === null ? DASH : minutesInWords(median),
    note:
      typeof low === "number" && typeof high === "number"
        ? minutesBoundsInWords(low, high)
        : undefined,
    why: why && reasonText(why, units),
  };
}

function bounds(
  low: number | null | undefined,
  high: number | null | undefined,
  units: UnitChoice,
): string | undefined {
  if (typeof low !== "number" || typeof high !== "number") return undefined;
  return `${words.left.bounds(volumeFigure(low, units), volumeFigure(high, units))} ${volumeUnit(units)}`;
}

/** What the station is made of, in one line a part. */
export function parts(view: StationView, units: UnitChoice): { name: string; value: string }[] {
  const { cylinder, sensors, procedure, flowDevice } = view.description;
  const names = words.station.figures;
  const sensor = (rangeBar: number, accuracy: number) =>
    names.sensorLine(
      `${fixed(pressureInUnit(rangeBar * 1e5, units), 0)} ${units.pressure}`,
      fixed(accuracy, 1),
    );
  const list: { name: string; value: string }[] = [];
  list.push({ name: words.claim.process, value: procedureLine(procedure) });
  if (cylinder) {
    list.push({
      name: names.cylinderIs,
      value: `${gasName(cylinder.composition)}, ${cylinderLine(cylinder)}`,
    });
  }
  if (flowDevice) {
    const tube =
      flowDevice.kind === "variable-area"
        ? words.weld.tube(linePressureText(flowDevice.scaleBar * 1e5, units))
        : words.claim.devices[flowDevice.kind];
    list.push({ name: names.device, value: tube });
  }
  const fitted = [
    sensors?.cylinder && sensor(sensors.cylinder.rangeBar, sensors.cylinder.accuracyPercentFs),
    sensors?.line && sensor(sensors.line.rangeBar, sensors.line.accuracyPercentFs),
  ].filter((line) => line !== undefined);
  list.push({ name: names.sensors, value: fitted.length ? fitted.join("; ") : names.noSensor });
  const node = view.node;
  // A broker may hold a node for connected long after its last word.
  const nodeState =
    view.estimate?.mode === "silent" && node.state === "online" ? "unknown" : node.state;
  list.push({
    name: names.node,
    value: [
      node.name ?? DASH,
      words.station.nodeState[nodeState],
      ...(node.power === "battery" ? [words.station.onBattery] : []),
    ].join(", "),
  });
  if (node.lastSample !== null) {
    const age = Math.max(0, nowS.value - Date.parse(node.lastSample) / 1000);
    list.push({ name: names.sample, value: ageInWords(age) });
  }
  return list;
}
