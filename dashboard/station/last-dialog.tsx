import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { useState } from "preact/hooks";
import { reasonText } from "../display/alarm-text.ts";
import { ageInWords, minutesInWords } from "../display/durations.ts";
import { fixed } from "../display/numbers.ts";
import { timeLeft } from "../display/time-left.ts";
import type { UnitChoice } from "../display/units.ts";
import { lastsFor } from "../display/will-it-last.ts";
import { words } from "../language/words.ts";
import { Choice } from "../shell/choice.tsx";
import { Dialog } from "../shell/dialog.tsx";
import { NumberField } from "../shell/fields.tsx";
import { freshnessOf } from "../shell/view-state.ts";

type Way = "minutes" | "seam";

/** Will the gas last for this weld: yes, no, or how likely. */
export function LastDialog(props: { view: StationView; units: UnitChoice; onClose: () => void }) {
  const text = words.actions;
  const { view, units, onClose } = props;
  const [way, setWay] = useState<Way>("minutes");
  const [minutes, setMinutes] = useState(30);
  const [lengthM, setLengthM] = useState(2);
  const [speed, setSpeed] = useState(15);
  const [starts, setStarts] = useState(4);
  const age = freshnessOf(view);
  const left = view.estimate ? timeLeft(view.estimate.remaining) : null;
  const flowing = view.estimate?.mode === "flowing";
  const flow = flowing ? view.estimate?.flow : view.estimate?.expected;
  const flowLpm = flow?.lpm ?? view.estimate?.demand?.targetLpm ?? null;
  const lasts = lastsFor(
    left,
    view.description,
    flowLpm,
    way === "minutes" ? { gasOnMinutes: minutes } : { lengthM, speedCmPerMin: speed, starts },
  );
  const steps = { less: text.less, more: text.more };
  return (
    <Dialog title={text.lastTitle} onClose={onClose}>
      <Choice
        label={text.lastTitle}
        hideLabel
        name="last-way"
        value={way}
        options={[
          { value: "minutes", text: text.lastByMinutes },
          { value: "seam", text: text.lastSeam },
        ]}
        onChange={setWay}
      />
      {way === "minutes" ? (
        <NumberField
          label={text.lastMinutes}
          value={minutes}
          step={5}
          big
          {...steps}
          onChange={setMinutes}
        />
      ) : (
        <>
          <NumberField
            label={text.lastLength}
            value={lengthM}
            step={0.5}
            {...steps}
            onChange={setLengthM}
          />
          <NumberField
            label={text.lastSpeed}
            value={speed}
            step={1}
            {...steps}
            onChange={setSpeed}
          />
          <NumberField
            label={text.lastStarts}
            value={starts}
            step={1}
            min={1}
            {...steps}
            onChange={setStarts}
          />
        </>
      )}
      <p class={`verdict verdict-${lasts.verdict}`} role="status">
        <strong>
          {lasts.verdict === "maybe"
            ? text.lastVerdict.maybe(fixed(Math.round((lasts.probability ?? 0) * 20) * 5, 0))
            : text.lastVerdict[lasts.verdict]}
        </strong>
        {left && left.median !== null && (
          <span>{text.lastNeeds(minutesInWords(lasts.neededMinutes), left.text)}</span>
        )}
        {left?.why && <span>{reasonText(left.why, units)}</span>}
      </p>
      {age.state === "old" && age.ageS !== null && (
        <p data-field="last-age">
          <strong>{words.sentence.oldTitle(ageInWords(age.ageS))}</strong>{" "}
          {words.sentence.oldAdvice}
        </p>
      )}
      <p class="quiet">{text.lastNote}</p>
      <div class="dialog-actions">
        <button type="button" class="button button-glove" onClick={onClose}>
          {text.close}
        </button>
      </div>
    </Dialog>
  );
}
