import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { shownReading } from "../display/device-line.ts";
import { ringName } from "../display/device-words.ts";
import { flowFigure, limitFigure, readingFigure } from "../display/numbers.ts";
import { slotPlaces } from "../display/slot.ts";
import type { UnitChoice } from "../display/units.ts";
import { words } from "../language/words.ts";

const percent = (place: number) => `${(place * 100).toFixed(2)}%`;

/**
 * The demand of the weld as a trough on the flow line, the true flow as a diamond with its interval,
 * and what float or gauge should show as a ring. Diamond inside the ring: the scale is right.
 */
export function Slot(props: { view: StationView; units: UnitChoice; live: boolean }) {
  const { view, units, live } = props;
  const estimate = view.estimate;
  if (!estimate) return null;
  const { window, diamond, ring } = slotPlaces(estimate, view.description);
  const device = view.description.flowDevice;
  const demand = estimate.demand;
  const solid = diamond?.kind === "now" && live;
  const intervalWide = diamond ? diamond.high - diamond.low > 0.004 : false;
  return (
    <div class="slot" role="img" aria-label={describe(view, units)}>
      <div class="slot-line" />
      <span class="slot-zero" aria-hidden="true">
        0
      </span>
      {window && (
        <div
          class="slot-window"
          style={{ left: percent(window.from), width: percent(window.to - window.from) }}
        />
      )}
      {window && demand && (
        <>
          <span class="slot-limit slot-least" style={{ left: percent(window.from) }}>
            {demand.minimumLpm !== null && limitFigure(demand.minimumLpm, units)}
          </span>
          <span class="slot-limit slot-most" style={{ left: percent(window.to) }}>
            {demand.maximumLpm !== null && limitFigure(demand.maximumLpm, units)}
          </span>
          {window.target !== null && (
            <div class="slot-target" style={{ left: percent(window.target) }} />
          )}
        </>
      )}
      {ring !== null && device && (
        <>
          <span class="slot-ring-name" style={{ left: percent(ring) }}>
            {ringName(device)}
          </span>
          <svg
            class="slot-ring"
            viewBox="-12 -12 24 24"
            style={{ left: percent(ring) }}
            aria-hidden="true"
          >
            <circle r="10" />
          </svg>
        </>
      )}
      {diamond && intervalWide && (
        <div
          class="slot-interval"
          style={{ left: percent(diamond.low), width: percent(diamond.high - diamond.low) }}
        />
      )}
      {diamond && (
        <svg
          class={solid ? "slot-diamond" : "slot-diamond slot-diamond-hollow"}
          viewBox="-12 -12 24 24"
          style={{ left: percent(diamond.at) }}
          aria-hidden="true"
        >
          <path d={diamond.beyond ? "M-7 -9 7 0 -7 9z" : "M0 -10 7 0 0 10 -7 0z"} />
        </svg>
      )}
    </div>
  );
}

function describe(view: StationView, units: UnitChoice): string {
  const estimate = view.estimate;
  const text = words.flow;
  if (!estimate) return text.slotNone;
  const shown = estimate.mode === "flowing" ? estimate.flow : estimate.expected;
  const figure = `${flowFigure(shown?.lpm, units)} ${units.flow}`;
  const now =
    !shown || shown.lpm === null
      ? text.slotNone
      : estimate.mode === "flowing"
        ? text.slotNow(figure)
        : text.slotNext(figure);
  const demand = estimate.demand;
  const window =
    demand && demand.minimumLpm !== null && demand.maximumLpm !== null
      ? text.needs(
          limitFigure(demand.minimumLpm, units),
          limitFigure(demand.maximumLpm, units),
          units.flow,
        )
      : text.needsNothing;
  const device = view.description.flowDevice;
  const reading = shownReading(estimate);
  const ring =
    device && reading !== null
      ? text.slotRing(
          ringName(device),
          `${readingFigure(reading)} ${estimate.indicated.unit ?? device.readingUnit}`,
        )
      : text.slotNoRing;
  return text.slot(now, window, ring);
}
