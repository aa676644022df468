import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { BAR_PA, PSI_PA } from "@leeward/shared-core/units/factors.ts";
import { useState } from "preact/hooks";
import { measuredPa } from "../display/measured-pressure.ts";
import { fixed, linePressureText, pressureText } from "../display/numbers.ts";
import { readingToLpm } from "../display/units.ts";
import { benchWords as text } from "../language/bench-words.ts";
import { units } from "../settings/settings.ts";
import { Explained } from "../shell/explain.tsx";
import { freshnessOf } from "../shell/view-state.ts";
import type { GuidedState } from "./draft.ts";
import { FigureField } from "./fields.tsx";
import { figure } from "./figure.ts";
import { guidedStep, LEAST_STEPS } from "./guided-plan.ts";

/** Certificates state twice the standard uncertainty (k = 2; JCGM 100:2008, 6.2). */
const COVERAGE_FACTOR = 2;
/** Less change of cylinder pressure than this tells nothing of its effect (own estimate, no source). */
const LEAST_FALL = 0.15;

/** Walks through a test: pressures come from the node, only the two readings are asked for. */
export function GuidedTest(props: {
  view: StationView;
  meter: string;
  state: GuidedState;
  onState: (state: GuidedState) => void;
  onRow: (cells: Record<string, string>) => void;
  onEnd: () => void;
}) {
  const { view, state, onState, onRow, onEnd } = props;
  const { kind, step, doubled, lastPa, said } = state;
  const [shown, setShown] = useState("");
  const [truth, setTruth] = useState("");
  const now = guidedStep(kind, step);
  const unit = view.description.flowDevice?.readingUnit ?? "L/min";
  const chosen = units.value;
  const live = freshnessOf(view).state === "live";
  // A node just fitted to a bench may not know yet whether gas flows; the meter's reader does.
  const flowing = live && ["flowing", "unknown"].includes(view.estimate?.mode ?? "");
  const cylinderPa = live ? measuredPa(view, "cylinder") : null;
  const linePa = live ? measuredPa(view, "line") : null;
  const readings = { shown: figure(shown), truth: figure(truth), doubled: figure(doubled) };
  const certificate = kind === "bench" || props.meter.trim() !== "";
  const why = !live || cylinderPa === null ? text.notLive : !flowing ? text.notFlowing : null;
  const complete =
    (readings.shown ?? 0) > 0 && (readings.truth ?? 0) > 0 && (readings.doubled ?? 0) > 0;
  const take = () => {
    if (!now || why !== null || cylinderPa === null || !complete || !certificate) return;
    const psi = chosen.pressure === "psi";
    const pressure = (pa: number) => (psi ? pa / PSI_PA : pa / BAR_PA).toFixed(psi ? 1 : 3);
    const side = psi ? "psi" : "bar";
    onRow({
      [`cylinder_${side}`]: pressure(cylinderPa),
      [`line_${side}`]: linePa === null ? "" : pressure(linePa),
      [unit === "CFH" ? "indicated_cfh" : "indicated"]: String(readings.shown),
      [chosen.flow === "CFH" ? "true_cfh" : "true_lpm"]: String(readings.truth),
      true_u_percent: String((readings.doubled ?? 0) / COVERAGE_FACTOR),
      // The first row of a sheet starts a setting, whether found or made.
      action: now.action === "left" && step === 0 ? "set" : now.action,
    });
    const notes = [text.taken(step + 1)];
    if (kind === "torch") {
      const scale = view.description.flowDevice?.scaleReference;
      const off =
        (readingToLpm(readings.shown ?? 0, unit, scale) /
          readingToLpm(readings.truth ?? 1, chosen.flow) -
          1) *
        100;
      const percent = `${off > 0 ? "+" : ""}${fixed(off, 1)}`;
      notes.push(step === 0 ? text.asFound(percent) : text.asLeft(percent));
    } else if (lastPa !== null && now.action === "left" && cylinderPa > lastPa * (1 - LEAST_FALL)) {
      notes.push(text.sameCylinder);
    }
    onState({ ...state, said: notes, lastPa: cylinderPa, step: step + 1 });
    setShown("");
    setTruth("");
  };
  return (
    <section class="card bench-card" data-guided={kind} data-step={step + 1}>
      <h2 class="card-title">{kind === "torch" ? text.torchStart : text.live}</h2>
      <p class="caution">{text.caution}</p>
      {said.length > 0 && (
        <div class="noted" role="status">
          {said.map((line) => (
            <p key={line}>{line}</p>
          ))}
        </div>
      )}
      {now ? (
        <>
          <p class="bench-step">
            <strong>{text.step(step + 1)}</strong> {text.steps[now.words]}
          </p>
          {kind === "bench" && step >= LEAST_STEPS && <p class="noted">{text.enough}</p>}
          <p class="bench-live">
            {text.cylinder}{" "}
            <Explained id={view.id} field="cylinder-pressure" label={text.cylinder}>
              <strong data-field="cylinder">{pressureText(cylinderPa, chosen)}</strong>
            </Explained>{" "}
            {text.line}{" "}
            <Explained id={view.id} field="line-pressure" label={text.line}>
              <strong data-field="line">{linePressureText(linePa, chosen)}</strong>
            </Explained>
          </p>
          {why && <p class="caution">{why}</p>}
          <div class="fields">
            <FigureField label={text.indicated(unit)} value={shown} onChange={setShown} />
            <FigureField label={text.truth(chosen.flow)} value={truth} onChange={setTruth} />
            <FigureField
              label={text.uncertainty}
              value={doubled}
              onChange={(doubled_) => onState({ ...state, doubled: doubled_ })}
            />
          </div>
          {!certificate && <p class="caution">{text.certificate}</p>}
        </>
      ) : (
        <p class="bench-step">{text.finished}</p>
      )}
      <div class="bench-buttons">
        {now && (
          <button
            type="button"
            class="button button-strong button-glove"
            disabled={why !== null || !complete || !certificate}
            onClick={take}
          >
            {text.take}
          </button>
        )}
        <button type="button" class="button button-glove" onClick={onEnd}>
          {text.stop}
        </button>
      </div>
    </section>
  );
}
