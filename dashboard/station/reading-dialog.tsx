import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { ReadingCase } from "@leeward/shared-core/flow/reading-causes.ts";
import { useState } from "preact/hooks";
import { settingsAgree } from "../display/device-line.ts";
import { readingWords } from "../display/device-words.ts";
import { ageInWords } from "../display/durations.ts";
import { fixed, flowFigure, readingFigure } from "../display/numbers.ts";
import { compareReading, readingCase } from "../display/reading-check.ts";
import { scaleMarks } from "../display/scale-marks.ts";
import { readingToLpm, type UnitChoice } from "../display/units.ts";
import { words } from "../language/words.ts";
import { Dialog } from "../shell/dialog.tsx";
import { DialogFooter } from "../shell/dialog-footer.tsx";
import { Explained } from "../shell/explain.tsx";
import { NumberField } from "../shell/fields.tsx";
import { freshnessOf } from "../shell/view-state.ts";
import { ReadingCauses } from "./reading-causes.tsx";
import { useEntry } from "./use-entry.ts";

/** What float or gauge shows now, against what it should show, and what a difference can mean. */
export function ReadingDialog(props: {
  view: StationView;
  units: UnitChoice;
  onClose: () => void;
}) {
  const { view, units, onClose } = props;
  const text = words.actions;
  const device = view.description.flowDevice;
  const indicated = view.estimate?.indicated;
  // As it stood when the dialog opened: a figure must not move under the hand.
  const [age] = useState(() => freshnessOf(view));
  const live = age.state === "live";
  // An old value says nothing of what the device shows now.
  const [should] = useState(live ? (indicated?.reading ?? null) : null);
  const unit = indicated?.unit ?? device?.readingUnit ?? "L/min";
  // Empty, and what it should show is said afterwards: else people confirm what they are shown.
  const [reading, setReading] = useState<number | null>(null);
  const [told, setTold] = useState<ReadingCase | null>(null);
  const entry = useEntry(view.id);
  if (!device) return null;
  const flow = live ? (view.estimate?.flow.lpm ?? null) : null;
  const sent = entry.state === "sent";
  const truth =
    reading !== null &&
    flow !== null &&
    view.estimate?.mode === "flowing" &&
    !settingsAgree(readingToLpm(reading, unit, device.scaleReference), flow, "L/min")
      ? text.readingTrue(`${flowFigure(flow, units)} ${units.flow}`)
      : null;
  const verdict = sent && reading !== null ? compareReading(reading, should, unit) : "unknown";
  return (
    <Dialog title={readingWords(device).ask} onClose={onClose}>
      {device.kind === "variable-area" && device.readAt && (
        <p class="quiet">
          {words.device[device.float === "shaped" ? "readAt" : "readAtBall"][device.readAt]}
        </p>
      )}
      {sent && reading !== null ? (
        <p>
          {text.readingNumber(unit)}: <strong>{readingFigure(reading)}</strong>
        </p>
      ) : (
        <>
          <ScaleMarks device={device} unit={unit} value={reading} onChoose={setReading} />
          <NumberField
            label={text.readingNumber(unit)}
            value={reading}
            step={unit === "CFH" ? 1 : 0.5}
            big
            less={text.less}
            more={text.more}
            onChange={setReading}
            onEmpty={() => setReading(null)}
          />
        </>
      )}
      {age.state === "old" && (
        <p class="quiet" data-field="reading-old">
          {words.sentence.oldTitle(ageInWords(age.ageS ?? 0))}
        </p>
      )}
      {sent && should !== null && (
        <p>
          <Explained id={view.id} field="indicated" label={text.readingShouldLabel}>
            {text.readingShould(readingFigure(should), unit)}
          </Explained>
        </p>
      )}
      {verdict === "agrees" && (
        <p>
          {text.readingAgrees} {truth !== null && <strong>{truth}</strong>}
        </p>
      )}
      {(verdict === "higher" || verdict === "lower") && (
        <div>
          <p>
            <strong>{verdict === "higher" ? text.readingHigher : text.readingLower}</strong>
          </p>
          {told && <ReadingCauses seen={told} units={units} />}
        </div>
      )}
      <DialogFooter sent={sent} answer={entry.answer} onClose={onClose}>
        <button
          type="button"
          class="button button-glove button-strong"
          disabled={entry.state === "sending" || reading === null}
          onClick={() => {
            if (reading === null) return;
            setTold(should === null ? null : readingCase(view, reading, should));
            void entry.send("reading", { reading });
          }}
        >
          {text.send}
        </button>
      </DialogFooter>
    </Dialog>
  );
}

/** Every mark of the device's scale as a button, for gloves; between marks the number is stepped. */
function ScaleMarks(props: {
  device: NonNullable<StationView["description"]["flowDevice"]>;
  unit: string;
  value: number | null;
  onChoose: (mark: number) => void;
}) {
  return (
    <fieldset class="scale-marks">
      <legend class="visually-hidden">{words.actions.readingMarks}</legend>
      {scaleMarks(props.device).map((mark) => (
        <button
          key={mark}
          type="button"
          class="button button-glove"
          aria-pressed={props.value === mark}
          onClick={() => props.onChoose(mark)}
        >
          {fixed(mark, 0)} <span class="visually-hidden">{props.unit}</span>
        </button>
      ))}
    </fieldset>
  );
}
