import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { together } from "../display/advice.ts";
import { reasonText } from "../display/alarm-text.ts";
import { cannotSee, flowPlace } from "../display/cannot-see.ts";
import { flowFigure, limitFigure, linePressureText } from "../display/numbers.ts";
import type { UnitChoice } from "../display/units.ts";
import { FlowFigure, lineHolds, offSince } from "../floor/flow-figure.tsx";
import { words } from "../language/words.ts";
import { Explained } from "../shell/explain.tsx";
import { Slot } from "../signs/slot.tsx";

/** True flow against what the weld needs, and what this station cannot see. */
export function FlowCard(props: {
  view: StationView;
  units: UnitChoice;
  live: boolean;
  liquid: boolean;
}) {
  const { view, units, live, liquid } = props;
  const place = flowPlace(view.description);
  const idle = view.estimate?.mode === "idle" || view.estimate?.mode === "valve-closed";
  const blind = cannotSee(view.description, view.estimate, liquid);
  return (
    <section class="card flow-card" aria-label={words.flow.through[place]}>
      <h2 class="card-title">{words.flow.through[place]}</h2>
      <Explained id={view.id} field={idle ? "next" : "flow"} label={words.flow.through[place]}>
        <FlowFigure view={view} units={units} />
      </Explained>
      <p class="card-note" data-field="flow-note">
        <Explained
          id={view.id}
          field={[idle ? "next" : "flow", "demand", ...(idle ? (["line-pressure"] as const) : [])]}
          label={words.flow.noteLabel}
        >
          {flowSentence(view, units)}
        </Explained>
      </p>
      <Slot view={view} units={units} live={live} />
      <p class="card-small">
        {words.station.cannotSeeLine(
          blind.map((thing) => words.station.cannotSeeShort[thing]).join(", "),
        )}
      </p>
    </section>
  );
}

/** `between 4.9 and 5.3, this weld needs 6 to 10`, or what the next gas-on gives. */
function flowSentence(view: StationView, units: UnitChoice): string {
  const estimate = view.estimate;
  if (!estimate) return words.state.noData;
  const parts: string[] = [];
  const idle = estimate.mode === "idle" || estimate.mode === "valve-closed";
  const shown = idle ? estimate.expected : estimate.flow;
  if (idle) {
    parts.push(
      ...[offSince(estimate), lineHolds(view, (pa) => linePressureText(pa, units))].filter(Boolean),
    );
    if (shown) {
      parts.push(
        shown.lpm === null
          ? words.flow.nextUnknownInline
          : words.flow.nextInline(`${flowFigure(shown.lpm, units)} ${units.flow}`),
      );
    }
  }
  const { low, high, why } = shown ?? {};
  if (typeof low === "number" && typeof high === "number") {
    parts.push(words.flow.between(flowFigure(low, units), flowFigure(high, units), units.flow));
  } else if (why) {
    parts.push(reasonText(why, units));
  }
  const demand = estimate.demand;
  if (demand && demand.minimumLpm !== null && demand.maximumLpm !== null) {
    parts.push(
      words.flow.needs(
        limitFigure(demand.minimumLpm, units),
        limitFigure(demand.maximumLpm, units),
        units.flow,
      ),
    );
  } else {
    parts.push(demand?.why ? reasonText(demand.why, units) : words.flow.needsNothing);
  }
  return together(parts.join(", "));
}
