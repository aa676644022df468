import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import { timeZone } from "../api/store.ts";
import { reasonText } from "../display/alarm-text.ts";
import { momentInWords } from "../display/durations.ts";
import { measuredPa } from "../display/measured-pressure.ts";
import { DASH, flowFigure } from "../display/numbers.ts";
import type { UnitChoice } from "../display/units.ts";
import { words } from "../language/words.ts";

/** The flow, big: a figure with its unit, `off`, `closed`, or a dash. */
export function FlowFigure({ view, units }: { view: StationView; units: UnitChoice }) {
  const estimate = view.estimate;
  const mode = estimate?.mode;
  const off = mode === "idle" || mode === "valve-closed";
  if (estimate && off) {
    return (
      <span class="flow-figure">
        <span class="flow-number" data-field="flow">
          {mode === "idle" ? words.flow.off : words.flow.closed}
        </span>
      </span>
    );
  }
  const lpm = estimate?.flow.lpm;
  const known = lpm !== null && lpm !== undefined;
  return (
    <span class="flow-figure">
      <span class="flow-number" data-field="flow">
        {known ? flowFigure(lpm, units) : DASH}
      </span>{" "}
      <span class="flow-unit">{units.flow}</span>
    </span>
  );
}

/** Under the figure: the interval, since when it is off, or why it is not known. */
export function flowNote(
  view: StationView,
  units: UnitChoice,
  parts: { linePressure: (pa: number | null | undefined) => string },
): string {
  const estimate = view.estimate;
  if (!estimate) return "";
  if (estimate.mode === "idle" || estimate.mode === "valve-closed") {
    return [offSince(estimate), lineHolds(view, parts.linePressure)].filter(Boolean).join(", ");
  }
  const { lpm, low, high, why } = estimate.flow;
  const reason = why ? reasonText(why, units) : null;
  if (lpm === null) return reason ?? words.flow.unknown;
  const bounds =
    low === undefined || high === undefined || low === null || high === null
      ? (reason ?? "")
      : `${flowFigure(low, units)} – ${flowFigure(high, units)} ${units.flow}`;
  return [bounds, restsOn(estimate)].filter(Boolean).join("; ");
}

/** While a sensor is in fault a figure says what it still rests on. */
function restsOn({ alarms, flow }: Estimate): string {
  if (!alarms.some(({ condition }) => condition === "sensor-fault")) return "";
  const sources: Readonly<Record<string, string>> = words.flow.restsOn;
  return sources[flow.basis ?? ""] ?? words.flow.restsOn.unknown;
}

/** `since 10:42`; empty where nobody saw it go off. */
export function offSince(estimate: Estimate): string {
  const since = estimate.gasSince ?? null;
  return since === null
    ? ""
    : words.flow.offSince(momentInWords(since, estimate.t, timeZone.value));
}

/** `line holds 3.4 bar`; empty without a line sensor. */
export function lineHolds(
  view: StationView,
  linePressure: (pa: number | null | undefined) => string,
): string {
  const line = measuredPa(view, "line");
  return line === null ? "" : words.flow.lineHolds(linePressure(line));
}
