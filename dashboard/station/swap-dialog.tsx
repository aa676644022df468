import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { useState } from "preact/hooks";
import { setupHref, supplyHref } from "../display/route.ts";
import { cylinderLine, gasName } from "../display/weld-line.ts";
import { words } from "../language/words.ts";
import { Dialog } from "../shell/dialog.tsx";
import { DialogFooter } from "../shell/dialog-footer.tsx";
import { NumberField, TextField } from "../shell/fields.tsx";
import { UndoSwap } from "./undo-swap.tsx";
import { useEntry } from "./use-entry.ts";
import { type Fitted, useFitted } from "./use-fitted.ts";

/** A cylinder was changed, the station's own or that of its shared supply. */
export function SwapDialog({ view, onClose }: { view: StationView; onClose: () => void }) {
  const { fitted, failed } = useFitted(view);
  if (fitted) return <SwapForm view={view} fitted={fitted} onClose={onClose} />;
  return (
    <Dialog title={words.actions.swapTitle} onClose={onClose}>
      {!failed && <p>{words.chart.loading}</p>}
      <DialogFooter answer={failed} onClose={onClose} />
    </Dialog>
  );
}

/** The same kind, full or part used. */
function SwapForm(props: { view: StationView; fitted: Fitted; onClose: () => void }) {
  const { view, fitted, onClose } = props;
  const { cylinder, sensors, shared } = fitted;
  const text = words.actions;
  const liquid = cylinder !== null && "filledKg" in cylinder;
  const entry = useEntry(view.id);
  const [lot, setLot] = useState("");
  const [kg, setKg] = useState(liquid ? (cylinder.filledKg as number) : 0);
  // Where the last change told no tare, the scale still stands there.
  const onScale = liquid && ("tareKg" in cylinder || sensors?.scale !== undefined);
  const [tare, setTare] = useState<number | null>(null);
  const named = {
    ...(lot.trim() === "" ? {} : { lot: lot.trim() }),
    ...(tare === null ? {} : { tareKg: tare }),
  };
  const busy = entry.state === "sending";
  return (
    <Dialog title={text.swapTitle} onClose={onClose}>
      {cylinder && <p>{text.swapSame(cylinderLine(cylinder), gasName(cylinder.composition))}</p>}
      {shared && shared.others.length > 0 && (
        <p data-field="shared">{text.swapShared(shared.supply, shared.others.join(", "))}</p>
      )}
      <p class="quiet">
        {text.swapCheck}{" "}
        <a href={shared ? supplyHref(`${view.site}.${shared.supply}`) : setupHref(view.id)}>
          {text.swapOther}
        </a>
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
