import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { FlowEstimate } from "@leeward/shared-core/estimation/estimate.ts";
import { computed, effect, untracked } from "@preact/signals";
import { useEffect, useMemo, useRef } from "preact/hooks";
import { nowS, stationOf } from "../api/store.ts";
import { together } from "../display/advice.ts";
import { reasonText } from "../display/alarm-text.ts";
import { cylinderFill, inSteps } from "../display/cylinder-fill.ts";
import { deviceLine } from "../display/device-line.ts";
import { ageInWords } from "../display/durations.ts";
import { fieldsOfTile } from "../display/explain.ts";
import { heldContentText } from "../display/held-content.ts";
import { measuredPa } from "../display/measured-pressure.ts";
import { fixed, flowFigure, linePressureText, pressureText } from "../display/numbers.ts";
import { stationHref } from "../display/route.ts";
import { sentenceOf } from "../display/sentence.ts";
import { timeLeft } from "../display/time-left.ts";
import type { UnitChoice } from "../display/units.ts";
import { gasName, stationLine } from "../display/weld-line.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { askHow } from "../shell/explain.tsx";
import {
  dataT,
  freshnessOf,
  freshnessWords,
  fullContentOf,
  mayHoldLiquid,
} from "../shell/view-state.ts";
import { Cylinder } from "../signs/cylinder.tsx";
import { Slot } from "../signs/slot.tsx";
import { FlowFigure, flowNote } from "./flow-figure.tsx";
import { SentenceBar } from "./sentence-bar.tsx";
import { keepInSight, sightOf } from "./sight.ts";
import { drawSoon, turnOf } from "./tile-queue.ts";
import { useSame } from "./use-same.ts";

/**
 * One station at a glance: does the weld get its gas, how long does it last, what to do. On a wall
 * (not `linked`) just that, in a type to be read from three metres.
 */
export function Tile({ id, linked }: { id: string; linked: boolean }) {
  const element = useDrawnInTurn(id);
  const facts = untracked(() => factsOf(id));
  const live = facts?.age.state === "live";
  const sentence = useSame(facts && sentenceOf(facts.view, facts.age, facts.liquid, units.value));
  const bar = useMemo(
    () => sentence && <SentenceBar sentence={sentence} faded={!live} linked={linked} />,
    [sentence, live, linked],
  );
  if (!facts) return null;
  const { view, chosen, liquid, full } = facts;
  return (
    <article
      ref={element}
      class={`tile${live ? "" : " is-old"}`}
      aria-label={view.name}
      data-station={view.id}
      data-t={view.estimate?.t}
      data-fresh={facts.age.state}
    >
      <div class="tile-head">
        <h2 class="tile-name">
          {linked ? <a href={stationHref(view.id)}>{view.name}</a> : view.name}
        </h2>
        {view.virtual && <span class="tag">{words.state.virtual}</span>}
        {(linked || !live) && <TileAge id={id} t={dataT(view)} live={live} />}
        {linked && <p class="tile-line">{stationLine(view.description)}</p>}
      </div>
      <div class="tile-body">
        <div class="tile-flow">
          <FlowFigure view={view} units={chosen} />
          {(linked || whyNoFlow(view)) && (
            <p class="tile-note" data-field="flow-note">
              {flowNote(view, chosen, { linePressure: (pa) => linePressureText(pa, chosen) })}
            </p>
          )}
          <Slot view={view} units={chosen} live={live} />
          {linked && (
            <p class="tile-device" data-field="device">
              <DeviceWords view={view} units={chosen} />
            </p>
          )}
          {linked && (
            <button
              type="button"
              class="tile-how"
              aria-label={words.station.howAll(view.name)}
              onClick={() => askHow({ id, fields: fieldsOfTile(view.estimate) })}
            >
              {words.station.how}
            </button>
          )}
        </div>
        <TileLeft view={view} units={chosen} liquid={liquid} full={full} linked={linked} />
      </div>
      {bar}
    </article>
  );
}

/** Everything that a tile shows, as of now. */
function factsOf(id: string) {
  const view = stationOf(id);
  if (!view) return null;
  return {
    view,
    chosen: units.value,
    age: freshnessOf(view),
    liquid: mayHoldLiquid(view),
    full: fullContentOf(view),
  };
}

/** Draws the tile anew when its turn comes after something it shows has changed. */
function useDrawnInTurn(id: string) {
  const element = useRef<HTMLElement>(null);
  turnOf(id).value;
  useEffect(() => {
    let first = true;
    const fresh = computed(() => {
      const view = stationOf(id);
      return view ? freshnessWords(view, sightOf(id).value) : "";
    });
    const stop = effect(() => {
      const view = stationOf(id);
      if (view) {
        fresh.value;
        units.value;
        fullContentOf(view);
        mayHoldLiquid(view);
      }
      // What stands is what was just drawn.
      if (!first) drawSoon(id);
      first = false;
    });
    const unseen = element.current ? keepInSight(element.current, id) : undefined;
    return () => {
      stop();
      unseen?.();
    };
  }, [id]);
  return element;
}

/** How old what is shown is; it counts only while somebody can see it. */
function TileAge({ id, t, live }: { id: string; t: number | null; live: boolean }) {
  const now = sightOf(id).value ? nowS.value : nowS.peek();
  const text = t === null ? words.state.noData : ageInWords(Math.max(0, now - t));
  return (
    <span class="tile-age">
      <span class={live && t !== null ? "tile-age-box" : undefined} data-field="age">
        {live || t === null ? text : words.state.old(text)}
      </span>
    </span>
  );
}

/** Of when a held content is; it counts only while somebody can see it. */
function HeldContent({ view }: { view: StationView }) {
  const now = sightOf(view.id).value ? nowS.value : nowS.peek();
  return <p class="tile-note">{heldContentText(view.estimate, now)}</p>;
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
        {first && together(`${first} – `)}
        <strong>{together(device.actionText)}</strong>
      </>
    );
  }
  const second = next
    ? null
    : device?.action === "leave"
      ? device.actionText
      : device?.why && reasonText(device.why, units);
  return <>{together([first, second].filter(Boolean).join(" – "))}</>;
}

/** A figure that is not known, or rests on less than usual, has its reason beside it everywhere. */
function whyNoFlow({ estimate }: StationView): boolean {
  if (!estimate || estimate.mode === "idle" || estimate.mode === "valve-closed") return false;
  return (
    estimate.flow.lpm === null || estimate.alarms.some((one) => one.condition === "sensor-fault")
  );
}

function nextGasOn(expected: FlowEstimate | null, units: UnitChoice): string | null {
  if (!expected) return null;
  if (expected.lpm !== null) {
    return words.flow.next(`${flowFigure(expected.lpm, units)} ${units.flow}`);
  }
  return [words.flow.nextUnknown, expected.why && reasonText(expected.why, units)]
    .filter(Boolean)
    .join(" – ");
}

function TileLeft(props: {
  view: StationView;
  units: UnitChoice;
  liquid: boolean;
  full: number | null;
  linked: boolean;
}) {
  const { view, units, liquid, full, linked } = props;
  const estimate = view.estimate;
  const cylinder = view.description.cylinder;
  const fill = useSame(estimate ? inSteps(cylinderFill(estimate.content, full)) : null);
  const count = cylinder?.count ?? 1;
  const label = cylinderLabel(view, liquid, full);
  const drawing = useMemo(
    () => <Cylinder fill={fill} liquid={liquid} count={count} label={label} />,
    [fill, liquid, count, label],
  );
  const left = estimate ? timeLeft(estimate.remaining) : null;
  const measured = measuredPa(view, "cylinder") ?? null;
  const pressure = pressureText(measured, units);
  return (
    <div class="tile-left">
      {drawing}
      <p class="tile-time" data-field="left">
        {left?.text ?? "–"}
      </p>
      <p class="tile-note tile-pressure">
        <span>
          {words.left.label}
          {estimate && linked && ","}
        </span>{" "}
        {estimate && linked && (
          <>
            {measured === null && `${words.station.figures.cylinder} `}
            <span data-field="cylinder-pressure">{pressure}</span>
          </>
        )}
      </p>
      {left?.why && <p class="tile-note">{reasonText(left.why, units)}</p>}
      {estimate?.content.ageS !== undefined && <HeldContent view={view} />}
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
