import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { useState } from "preact/hooks";
import { setupHref } from "../display/route.ts";
import { cylinderLine, gasName } from "../display/weld-line.ts";
import { words } from "../language/words.ts";
import { Dialog } from "../shell/dialog.tsx";
import { DialogFooter } from "../shell/dialog-footer.tsx";
import { NumberField, TextField } from "../shell/fields.tsx";
import { UndoSwap } from "./undo-swap.tsx";
import { useEntry } from "./use-entry.ts";

/** A cylinder was changed: the same kind, full or part used. */
export function SwapDialog({ view, onClose }: { view: StationView; onClose: () => void }) {
  const text = words.actions;
  const cylinder = view.description.cylinder;
  const liquid = cylinder !== null && cylinder !== undefined && "filledKg" in cylinder;
  const entry = useEntry(view.id);
  const [lot, setLot] = useState("");
  const [kg, setKg] = useState(liquid ? (cylinder.filledKg as number) : 0);
  const onScale = liquid && "tareKg" in cylinder;
  const [tare, setTare] = useState<number | null>(null);
  const named = {
    ...(lot.trim() === "" ? {} : { lot: lot.trim() }),
    ...(tare === null ? {} : { tareKg: tare }),
  };
  const busy = entry.state === "sending";
  return (
    <Dialog title={text.swapTitle} onClose={onClose}>
      {cylinder && <p>{text.swapSame(cylinderLine(cylinder), gasName(cylinder.composition))}</p>}
      <p class="quiet">
        {text.swapCheck} <a href={setupHref(view.id)}>{text.swapOther}</a>
      </p>
      <TextField label={text.swapLot} value={lot} onChange={setLot} />
      {liquid && (
        <NumberField
          label={text.swapPartKg}
          value={kg}
          step={1}
          less={text.less}
          more={text.more}
          onChange={setKg}
        />
      )}
      {onScale && (
        <>
          <NumberField
            label={text.swapTare}
            value={tare}
            step={0.1}
            onChange={(typed) => setTare(typed > 0 ? typed : null)}
            onEmpty={() => setTare(null)}
          />
          <p class="quiet">{text.swapTareHint}</p>
        </>
      )}
      <UndoSwap key={entry.state} view={view} />
      <DialogFooter sent={entry.state === "sent"} answer={entry.answer} onClose={onClose}>
        {liquid && (
          <button
            type="button"
            class="button button-glove"
            disabled={busy}
            onClick={() => entry.send("swap", { swap: { ...named, presentKg: kg } })}
          >
            {text.swapPart}
          </button>
        )}
        <button
          type="button"
          class="button button-glove button-strong"
          disabled={busy}
          onClick={() => entry.send("swap", { swap: named })}
        >
          {liquid ? text.swapFull : text.swapSameKind}
          {!liquid && <small>{text.swapByPressure}</small>}
        </button>
      </DialogFooter>
    </Dialog>
  );
}
