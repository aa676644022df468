import { unsuitedGas } from "@leeward/shared-core/alarms/wrong-gas.ts";
import type { Rack, RackCylinder } from "@leeward/shared-core/api/rack.ts";
import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { nowS, orderedStations, timeZone } from "../api/store.ts";
import { aboutMoment, ageInWords, momentInWords, spreadS } from "../display/durations.ts";
import { heldContentText } from "../display/held-content.ts";
import { measuredPa } from "../display/measured-pressure.ts";
import { moneyText } from "../display/money.ts";
import { DASH, pressureText, volumeText } from "../display/numbers.ts";
import { stationHref } from "../display/route.ts";
import { gasName } from "../display/weld-line.ts";
import { rackWords as text } from "../language/rack-words.ts";
import { setupWords } from "../language/setup-words.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { Choice } from "../shell/choice.tsx";
import { Dialog } from "../shell/dialog.tsx";
import { DialogFooter } from "../shell/dialog-footer.tsx";
import { Explained } from "../shell/explain.tsx";
import { TextField } from "../shell/fields.tsx";
import { keepName, recallName } from "../shell/person.ts";
import { freshnessOf } from "../shell/view-state.ts";
import { fitCylinder, undoSwap } from "./rack-api.ts";

interface Part {
  rack: Rack;
  onChange: (rack: Rack) => void;
}

/** What hangs at each station, how long it lasts, and that it was changed. */
export function Fitted({ rack, onChange }: Part) {
  const list = orderedStations.value.filter((view) => view.site === rack.site);
  return (
    <section class="rack-section" aria-labelledby="fitted-title">
      <h2 id="fitted-title">{text.fitted}</h2>
      <div class="rack-fitted">
        {list.map((view) => (
          <FittedCard key={view.id} view={view} rack={rack} onChange={onChange} />
        ))}
      </div>
    </section>
  );
}

function FittedCard({ view, rack, onChange }: Part & { view: StationView }) {
  const [asking, setAsking] = useState<"change" | "undo" | null>(null);
  const { estimate, description } = view;
  const cylinder = rack.cylinders.find((one) => one.place === "fitted" && one.station === view.id);
  const undoable = rack.undoable.find((one) => one.station === view.id);
  const moment = (t: number) => momentInWords(t, nowS.value, timeZone.value);
  const due = estimate?.remaining.clockMinutes.median ?? null;
  const price = description.cylinder?.pricePerFill;
  const { state, ageS } = freshnessOf(view);
  const rows = [
    {
      field: "content",
      name: text.content,
      value: volumeText(estimate?.content.litres, units.value),
      note: heldContentText(estimate, nowS.value),
    },
    {
      field: "cylinder-pressure",
      name: text.pressure,
      value: pressureText(measuredPa(view, "cylinder"), units.value),
      note: null,
    },
    {
      field: "clock",
      name: text.changeBy,
      value:
        estimate && due !== null
          ? aboutMoment(
              estimate.t + due * 60,
              spreadS(estimate.remaining.clockMinutes),
              nowS.value,
              timeZone.value,
            )
          : text.notKnown,
      note: null,
    },
  ] as const;
  return (
    <article class={`card rack-card${state === "live" ? "" : " is-old"}`} data-fitted={view.id}>
      <h3>
        <a href={stationHref(view.id)}>{view.name}</a>
      </h3>
      <p>
        <strong>{description.cylinder?.gas}</strong>{" "}
        {description.cylinder && `(${gasName(description.cylinder.composition)}) `}
        {cylinder ? cylinder.record.serial : text.noSerial}
        {cylinder?.record.lot && `, ${text.lot(cylinder.record.lot)}`}
        {cylinder && <Overdue cylinder={cylinder} />}
      </p>
      {description.cylinder ? (
        <>
          <dl class="rack-facts">
            {rows.map(({ field, name, value, note }) => (
              <div key={field}>
                <dt>{name}</dt>
                <dd>
                  <Explained id={view.id} field={field} label={name}>
                    {value}
                  </Explained>
                  {note && <small>{note}</small>}
                </dd>
              </div>
            ))}
            <div>
              <dt>{text.price}</dt>
              <dd>
                <Explained figure="rack-price" label={text.price}>
                  {price === undefined ? DASH : moneyText(price, rack.currency)}
                </Explained>
              </dd>
            </div>
          </dl>
          {state !== "live" && (
            <p class="rack-age" data-field="age">
              {ageS === null ? words.state.noData : words.state.old(ageInWords(ageS))}
            </p>
          )}
          <div class="rack-buttons">
            <button type="button" class="button button-glove" onClick={() => setAsking("change")}>
              {text.change}
              <span class="visually-hidden"> {view.name}</span>
            </button>
            {undoable && (
              <button type="button" class="button button-glove" onClick={() => setAsking("undo")}>
                {text.undo}
                <small>{text.undoUntil(moment(Date.parse(undoable.until) / 1000))}</small>
              </button>
            )}
          </div>
        </>
      ) : (
        <p class="quiet">{text.supply}</p>
      )}
      {asking && (
        <ChangeDialog
          kind={asking}
          view={view}
          rack={rack}
          onChange={onChange}
          onClose={() => setAsking(null)}
        />
      )}
    </article>
  );
}

function isOverdue({ record: { testedUntil } }: RackCylinder): boolean {
  return testedUntil !== undefined && Date.parse(testedUntil) / 1000 <= nowS.value;
}

/** That the test of a cylinder has run out. */
export function Overdue({ cylinder }: { cylinder: RackCylinder }) {
  if (!isOverdue(cylinder)) return null;
  return <strong class="rack-now"> {text.overdue}</strong>;
}

/** Why a cylinder's gas does not suit what is welded at a station; null where it does. */
function unsuitedAt({ description }: StationView, { record }: RackCylinder) {
  const { cylinder } = description;
  if (!cylinder) return null;
  const { gas, composition } = record;
  const station = { ...description, cylinder: { ...cylinder, gas, composition } };
  return unsuitedGas({ station, supply: null });
}

function ChangeDialog(
  props: Part & { kind: "change" | "undo"; view: StationView; onClose: () => void },
) {
  const { kind, view, rack } = props;
  const gas = view.description.cylinder?.gas ?? "";
  // The same gas first: the likely one is under the thumb.
  const full = rack.cylinders
    .filter((one) => one.place === "store")
    .sort((a, b) => Number(b.record.gas === gas) - Number(a.record.gas === gas));
  const [id, setId] = useState(full[0]?.record.gas === gas ? full[0].id : "");
  const [name, setName] = useState(recallName);
  const [answer, setAnswer] = useState<Answer<Rack> | null>(null);
  const chosen = full.find((one) => one.id === id);
  const unsuited = chosen ? unsuitedAt(view, chosen) : null;
  const send = async () => {
    const by = name.trim();
    const result =
      kind === "undo" ? await undoSwap(view.id, by) : await fitCylinder(rack.site, id, view.id, by);
    setAnswer(result);
    if (!result.ok) return;
    keepName(by);
    props.onChange(result.value);
    props.onClose();
  };
  return (
    <Dialog
      title={kind === "undo" ? text.undoTitle(view.name) : text.changeTitle(view.name)}
      onClose={props.onClose}
    >
      {kind === "undo" ? (
        <p>{text.undoNote}</p>
      ) : full.length === 0 ? (
        <p class="caution">{text.none}</p>
      ) : (
        <>
          <p class="caution">{text.check}</p>
          <Choice
            label={text.which}
            name="cylinder"
            value={id}
            options={full.map((one) => ({
              value: one.id,
              text: one.record.serial,
              note: [
                one.record.gas,
                one.record.lot && text.lot(one.record.lot),
                isOverdue(one) && text.overdue,
              ]
                .filter(Boolean)
                .join(", "),
            }))}
            onChange={setId}
          />
          {chosen && chosen.record.gas !== gas && (
            <p class="problem" role="alert">
              {text.otherGas(chosen.record.gas, gas)}
            </p>
          )}
          {unsuited && (
            <p class="problem" role="alert" data-field="unsuited">
              <strong>{setupWords.unsuited.title}.</strong> {setupWords.unsuited[unsuited]}
            </p>
          )}
        </>
      )}
      <TextField label={text.name} value={name} onChange={setName} />
      <DialogFooter answer={answer} onClose={props.onClose}>
        <button
          type="button"
          class="button button-glove button-strong"
          disabled={name.trim() === "" || (kind === "change" && !chosen)}
          onClick={() => void send()}
        >
          {kind === "undo" ? text.undo : text.done}
        </button>
      </DialogFooter>
    </Dialog>
  );
}
