import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { volumesWanted } from "@leeward/shared-core/estimation/told.ts";
import { useState } from "preact/hooks";
import { fixed } from "../display/numbers.ts";
import { words } from "../language/words.ts";
import { Choice } from "../shell/choice.tsx";
import { Dialog } from "../shell/dialog.tsx";
import { DialogFooter } from "../shell/dialog-footer.tsx";
import { NumberField } from "../shell/fields.tsx";
import { useEntry } from "./use-entry.ts";

type Way = "pipe" | "oxygen" | "minutes";

/** A purge is declared, by the pipe or by the clock, or ended. */
export function PurgeDialog({ view, onClose }: { view: StationView; onClose: () => void }) {
  const text = words.actions;
  const entry = useEntry(view.id);
  const [way, setWay] = useState<Way>("pipe");
  const [boreMm, setBoreMm] = useState(80);
  const [lengthM, setLengthM] = useState(0.5);
  const [volumes, setVolumes] = useState(10);
  // Where stainless steel's wish begins (common practice; see demand/tables.ts).
  const [oxygenPpm, setOxygenPpm] = useState(50);
  const [minutes, setMinutes] = useState(20);
  const steps = { less: text.less, more: text.more };
  const busy = entry.state === "sending";
  const purge = {
    pipe: { boreMm, lengthM, volumes },
    oxygen: { boreMm, lengthM, oxygenPpm },
    minutes: { minutes },
  }[way];
  const composition = view.description.cylinder?.composition;
  const wellMixed = volumesWanted({ oxygenPpm }, composition?.O2 ?? 0);
  return (
    <Dialog title={text.purgeTitle} onClose={onClose}>
      <p class="caution">{text.purgeSafety}</p>
      <p class="quiet">{text.purgeIntro}</p>
      <Choice
        label={text.purgeTitle}
        hideLabel
        name="purge-way"
        value={way}
        options={[
          { value: "pipe", text: text.purgeByPipe },
          { value: "oxygen", text: text.purgeByOxygen },
          { value: "minutes", text: text.purgeByMinutes },
        ]}
        onChange={setWay}
      />
      {way !== "minutes" ? (
        <>
          <NumberField
            label={text.purgePipe}
            value={boreMm}
            step={5}
            {...steps}
            onChange={setBoreMm}
          />
          <NumberField
            label={text.purgeLength}
            value={lengthM}
            step={0.1}
            {...steps}
            onChange={setLengthM}
          />
          {way === "pipe" ? (
            <NumberField
              label={text.purgeVolumes}
              value={volumes}
              step={1}
              {...steps}
              onChange={setVolumes}
            />
          ) : (
            <>
              <NumberField
                label={text.purgeOxygen}
                value={oxygenPpm}
                step={10}
                {...steps}
                onChange={setOxygenPpm}
              />
              {wellMixed === null ? (
                <p class="caution">{text.purgeNeverThere}</p>
              ) : (
                <p class="quiet">{text.purgeWellMixed(fixed(wellMixed, 1))}</p>
              )}
            </>
          )}
        </>
      ) : (
        <NumberField
          label={text.purgeMinutes}
          value={minutes}
          step={5}
          big
          {...steps}
          onChange={setMinutes}
        />
      )}
      <DialogFooter sent={entry.state === "sent"} answer={entry.answer} onClose={onClose}>
        {view.estimate?.told?.purge && (
          <button
            type="button"
            class="button button-glove"
            disabled={busy}
            onClick={() => entry.send("purge", { purge: { end: true } })}
          >
            {text.purgeEnd}
          </button>
        )}
        <button
          type="button"
          class="button button-glove button-strong"
          disabled={busy || (way === "oxygen" && wellMixed === null)}
          onClick={() => entry.send("purge", { purge })}
        >
          {text.purgeStart}
        </button>
      </DialogFooter>
    </Dialog>
  );
}
