import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { HIGH_SIDE_EMPTY_PA, LINE_EMPTY_PA } from "@leeward/shared-core/estimation/leak-test.ts";
import { useState } from "preact/hooks";
import { measuredPa } from "../display/measured-pressure.ts";
import { linePressureText, pressureText } from "../display/numbers.ts";
import type { UnitChoice } from "../display/units.ts";
import { leakTestWords as text } from "../language/leak-test-words.ts";
import { Choice } from "../shell/choice.tsx";
import { Dialog } from "../shell/dialog.tsx";
import { DialogFooter } from "../shell/dialog-footer.tsx";
import { freshnessOf } from "../shell/view-state.ts";
import { useEntry } from "./use-entry.ts";
import "./leak-test.css";

/** The guided leak test: what to shut, what is trapped, and the start. */
export function LeakTestDialog(props: {
  view: StationView;
  units: UnitChoice;
  onClose: () => void;
}) {
  const { view, units, onClose } = props;
  const entry = useEntry(view.id);
  // A preset regulator has no screw to back out; a valve at its outlet is rare.
  const [regulator, setRegulator] = useState<"shut" | "open">(
    view.description.regulator?.adjust === "preset" ? "open" : "shut",
  );
  const estimate = view.estimate;
  const highPa = measuredPa(view, "cylinder");
  const linePa = measuredPa(view, "line");
  const stale = freshnessOf(view).state !== "live";
  const gasOn = estimate?.mode === "flowing";
  return (
    <Dialog title={text.title} onClose={onClose}>
      <p class="caution">{text.safety}</p>
      <p class="quiet">{text.intro}</p>
      <Choice
        label={text.regulator.label}
        name="leak-regulator"
        value={regulator}
        options={[
          { value: "shut", text: text.regulator.shut, note: text.regulator.shutNote },
          { value: "open", text: text.regulator.open, note: text.regulator.openNote },
        ]}
        onChange={setRegulator}
      />
      <ol class="leak-steps">
        <li>{view.description.supply ? text.steps.torches : text.steps.torch}</li>
        <li>{text.steps.valve}</li>
        <li>{regulator === "shut" ? text.steps.shut : text.steps.open}</li>
        <li>{text.steps.start}</li>
      </ol>
      <dl class="leak-sides" aria-label={text.now}>
        <div>
          <dt>{text.cylinderSide}</dt>
          <dd data-field="leak-high">{pressureText(highPa, units)}</dd>
        </div>
        <div>
          <dt>{text.lineSide}</dt>
          <dd data-field="leak-line">{linePressureText(linePa, units)}</dd>
        </div>
      </dl>
      {highPa !== null && highPa < HIGH_SIDE_EMPTY_PA && <p class="caution">{text.lowPressure}</p>}
      {linePa !== null && linePa < LINE_EMPTY_PA && <p class="caution">{text.lowLine}</p>}
      {stale ? <p class="caution">{text.stale}</p> : gasOn && <p class="caution">{text.gasOn}</p>}
      <DialogFooter sent={entry.state === "sent"} answer={entry.answer} onClose={onClose}>
        <button
          type="button"
          class="button button-glove button-strong"
          disabled={entry.state === "sending" || stale || gasOn}
          onClick={async () => {
            if (await entry.send("leakTest", { leakTest: { regulator } })) onClose();
          }}
        >
          {text.start}
        </button>
      </DialogFooter>
    </Dialog>
  );
}
