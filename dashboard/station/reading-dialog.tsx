import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { ReadingCase } from "@leeward/shared-core/flow/reading-causes.ts";
import { useState } from "preact/hooks";
import { settingsAgree } from "../display/device-line.ts";
import { ageInWords } from "../display/durations.ts";
import { flowFigure, readingFigure } from "../display/numbers.ts";
import { compareReading, readingCase } from "../display/reading-check.ts";
import { readingToLpm, type UnitChoice } from "../display/units.ts";
import { words } from "../language/words.ts";
import { Dialog } from "../shell/dialog.tsx";
import { DialogFooter } from "../shell/dialog-footer.tsx";
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
  const [reading, setReading] = useState(Math.round((should ?? device?.reading ?? 8) * 2) / 2);
  const [told, setTold] = useState<ReadingCase | null>(null);
  const entry = useEntry(view.id);
  if (!device) return null;
  const flow = live ? (view.estimate?.flow.lpm ?? null) : null;
  const shownLpm = readingToLpm(reading, unit, device.scaleReference);
  const truth =
    flow !== null && view.estimate?.mode === "flowing" && !settingsAgree(shownLpm, flow, "L/min")
      ? text.readingTrue(`${flowFigure(flow, units)} ${units.flow}`)
      : null;
  const verdict = compareReading(reading, should, unit);
  return (
    <Dialog title={text.readingTitle[device.kind]} onClose={onClose}>
      {device.kind === "variable-area" && device.readAt && (
        <p class="quiet">{words.device.readAtBall[device.readAt]}</p>
      )}
      <NumberField
        label={unit}
        value={reading}
        step={unit === "CFH" ? 1 : 0.5}
        big
        less={text.less}
        more={text.more}
        onChange={setReading}
      />
      {age.state === "old" && (
        <p class="quiet" data-field="reading-old">
          {words.sentence.oldTitle(ageInWords(age.ageS ?? 0))}
        </p>
      )}
      {should !== null && <p>{text.readingShould(readingFigure(should), unit)}</p>}
      {entry.state === "sent" && verdict === "agrees" && (
        <p>
          {text.readingAgrees} {truth !== null && <strong>{truth}</strong>}
        </p>
      )}
      {entry.state === "sent" && (verdict === "higher" || verdict === "lower") && (
        <div>
          <p>
            <strong>{verdict === "higher" ? text.readingHigher : text.readingLower}</strong>
          </p>
          {told && <ReadingCauses seen={told} units={units} />}
        </div>
      )}
      <DialogFooter sent={entry.state === "sent"} answer={entry.answer} onClose={onClose}>
        <button
          type="button"
          class="button button-glove button-strong"
          disabled={entry.state === "sending"}
          onClick={() => {
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
