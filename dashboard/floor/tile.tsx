import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { FlowEstimate } from "@leeward/shared-core/estimation/estimate.ts";
import { cylinderFill } from "../display/cylinder-fill.ts";
import { deviceLine } from "../display/device-line.ts";
import { ageInWords, secondsInWords } from "../display/durations.ts";
import { fixed, flowFigure, linePressureText, pressureText } from "../display/numbers.ts";
import { stationHref } from "../display/route.ts";
import { sentenceOf } from "../display/sentence.ts";
import { timeLeft } from "../display/time-left.ts";
import type { UnitChoice } from "../display/units.ts";
import { gasName, stationLine } from "../display/weld-line.ts";
import { words } from "../language/words.ts";
import { freshnessOf, fullContentOf, mayHoldLiquid } from "../shell/view-state.ts";
import { Cylinder } from "../signs/cylinder.tsx";
import { Slot } from "../signs/slot.tsx";
import { FlowFigure, flowNote } from "./flow-figure.tsx";
import { SentenceBar } from "./sentence-bar.tsx";

/** One station at a glance: does the weld get its gas, how long does it last, what to do. */
export function Tile(props: { view: StationView; units: UnitChoice; linked: boolean }) {
  const { view, units, linked } = props;
  const age = freshnessOf(view);
  const liquid = mayHoldLiquid(view);
  const sentence = sentenceOf(view, age, liquid);
  const live = age.state === "live";
  const line = stationLine(view.description);
  return (
    <article
      class={`tile${live ? "" : " is-old"}`}
      data-station={view.id}
      data-t={view.estimate?.t}
      data-fresh={age.state}
    >
      <div class="tile-head">
        <h2 class="tile-name">
          {linked ? <a href={stationHref(view.id)}>{view.name}</a> : view.name}
        </h2>
        {view.virtual && <span class="tag">{words.state.virtual}</span>}
        <span class="tile-age" data-field="age">
          {age.ageS === null
            ? words.state.noData
            : live
              ? ageInWords(age.ageS)
              : words.state.old(ageInWords(age.ageS))}
        </span>
        <p class="tile-line">{line}</p>
      </div>
      <div class="tile-body">
        <div class="tile-flow">
          <FlowFigure view={view} units={units} />
          <p class="tile-note" data-field="flow-note">
            {flowNote(view, units, { linePressure: (pa) => linePressureText(pa, units) })}
          </p>
          <Slot view={view} units={units} live={live} />
          <p class="tile-device" data-field="device">
            <DeviceWords view={view} units={units} />
          </p>
        </div>
        <TileLeft view={view} units={units} liquid={liquid} />
      </div>
      <SentenceBar sentence={sentence} faded={!live} />
    </article>
  );
}

/** `Float should show 8 – set it to 12.6`, or what the next gas-on gives. */
function DeviceWords({ view, units }: { view: StationView; units: UnitChoice }) {
  const estimate = view.estimate;
  if (!estimate) return null;
  const device = deviceLine(estimate, view.description);
  const off = estimate.mode === "idle" || estimate.mode === "valve-closed";
  const next = off ? nextGasOn(estimate.expected, units) : null;
  const first = next ?? device?.shows ?? words.device.none;
  if (device?.action === "set") {
    return (
      <>
        {first && `${first} – `}
        <strong>{device.actionText}</strong>
      </>
    );
  }
  const second = next ? null : device?.action === "leave" ? device.actionText : device?.why;
  return <>{[first, second].filter(Boolean).join(" – ")}</>;
}

function nextGasOn(expected: FlowEstimate | null, units: UnitChoice): string | null {
  if (!expected) return null;
  if (expected.lpm !== null) {
    return words.flow.next(`${flowFigure(expected.lpm, units)} ${units.flow}`);
  }
  return [words.flow.nextUnknown, expected.why].filter(Boolean).join(" – ");
}

function TileLeft(props: { view: StationView; units: UnitChoice; liquid: boolean }) {
  const { view, units, liquid } = props;
  const estimate = view.estimate;
  const cylinder = view.description.cylinder;
  const full = fullContentOf(view);
  const fill = estimate ? cylinderFill(estimate.content, full) : null;
  const left = estimate ? timeLeft(estimate.remaining) : null;
  const pressure = pressureText(estimate?.measured?.cylinderPa, units);
  return (
    <div class="tile-left">
      <Cylinder
        fill={fill}
        liquid={liquid}
        count={cylinder?.count ?? 1}
        label={cylinderLabel(view, liquid, full)}
      />
      <p class="tile-time" data-field="left">
        {left?.text ?? "–"}
      </p>
      <p class="tile-note tile-pressure">
        <span>{words.left.label},</span> <span data-field="cylinder-pressure">{pressure}</span>
      </p>
      {left?.why && <p class="tile-note">{left.why}</p>}
      {estimate?.content.ageS !== undefined && (
        <p class="tile-note">{words.left.held(secondsInWords(estimate.content.ageS))}</p>
      )}
    </div>
  );
}

export function cylinderLabel(view: StationView, liquid: boolean, full: number | null): string {
  const cylinder = view.description.cylinder;
  if (!cylinder) return words.left.noCylinder;
  const gas = gasName(cylinder.composition);
  if (liquid) return words.left.cylinderLiquid(gas);
  const litres = view.estimate?.content.litres ?? null;
  if (litres === null || full === null) return words.left.cylinderUnknown(gas);
  return words.left.cylinderDrawing(fixed(Math.min(100, (litres / full) * 100), 0), gas);
}
