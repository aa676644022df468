import type { CylinderRecord, Rack } from "@leeward/shared-core/api/rack.ts";
import { useId, useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { orderedStations } from "../api/store.ts";
import { rackWords as text } from "../language/rack-words.ts";
import { SelectField, TextField } from "../shell/fields.tsx";
import { ProblemNote } from "../shell/problem-note.tsx";
import { addCylinder } from "./rack-api.ts";

const blank = { serial: "", lot: "", supplier: "", tare: "", filledOn: "", testedUntil: "" };

/** A number as typed, with comma or point; null where it is none above zero. */
function figure(typed: string): number | null {
  const value = Number(typed.trim().replace(",", "."));
  return typed.trim() !== "" && Number.isFinite(value) && value > 0 ? value : null;
}

/** A full cylinder has arrived: like one that hangs somewhere, with its own numbers. */
export function AddCylinder({ rack, onChange }: { rack: Rack; onChange: (rack: Rack) => void }) {
  const models = orderedStations.value.filter(
    (view) => view.site === rack.site && view.description.cylinder,
  );
  const [model, setModel] = useState(models[0]?.id ?? "");
  const cylinder = models.find((view) => view.id === model)?.description.cylinder;
  const liquid = cylinder !== undefined && cylinder !== null && "filledKg" in cylinder;
  const asDescribed = {
    water: String(cylinder?.waterVolumeL ?? ""),
    fill: String((liquid ? cylinder.filledKg : cylinder?.filledBar) ?? ""),
    price: String(cylinder?.pricePerFill ?? ""),
  };
  const [facts, setFacts] = useState(blank);
  const [typed, setTyped] = useState<Partial<typeof asDescribed>>({});
  const [answer, setAnswer] = useState<Answer<Rack> | null>(null);
  const shown = { ...asDescribed, ...typed };
  const water = figure(shown.water);
  const fill = figure(shown.fill);
  const price = figure(shown.price);
  const tare = figure(facts.tare);
  const ready = facts.serial.trim() !== "" && water !== null && fill !== null && cylinder;
  const save = async () => {
    if (!ready) return;
    const record: CylinderRecord = {
      serial: facts.serial.trim(),
      lot: facts.lot.trim(),
      supplier: facts.supplier.trim(),
      gas: cylinder.gas,
      composition: cylinder.composition,
      waterVolumeL: water,
      ...(liquid ? { filledKg: fill } : { filledBar: fill, filledC: 15 }),
      ...(liquid && tare !== null ? { tareKg: tare } : {}),
      ...(price === null ? {} : { pricePerFill: price }),
      ...(facts.filledOn === "" ? {} : { filledOn: facts.filledOn }),
      ...(facts.testedUntil === "" ? {} : { testedUntil: facts.testedUntil }),
    };
    const result = await addCylinder(rack.site, freshId(), record);
    setAnswer(result);
    if (!result.ok) return;
    setFacts(blank);
    onChange(result.value);
  };
  const fact = (name: keyof typeof blank) => (value: string) =>
    setFacts({ ...facts, [name]: value });
  const number = (name: keyof typeof asDescribed) => (value: string) =>
    setTyped({ ...typed, [name]: value });
  return (
    <section class="card" aria-labelledby="add-title">
      <h2 class="card-title" id="add-title">
        {text.add}
      </h2>
      <div class="fields">
        <SelectField
          label={text.like}
          value={model}
          options={models.map((view) => ({
            value: view.id,
            text: `${view.description.cylinder?.gas}: ${view.name}`,
          }))}
          onChange={(value) => {
            setModel(value);
            setTyped({});
          }}
        />
        <TextField label={text.serial} value={facts.serial} onChange={fact("serial")} />
        <TextField label={text.lotField} value={facts.lot} onChange={fact("lot")} />
        <TextField label={text.water} value={shown.water} onChange={number("water")} />
        <TextField
          label={liquid ? text.kg : text.bar}
          value={shown.fill}
          onChange={number("fill")}
        />
        {liquid && <TextField label={text.tare} value={facts.tare} onChange={fact("tare")} />}
        <TextField label={text.priceField} value={shown.price} onChange={number("price")} />
        <TextField label={text.supplier} value={facts.supplier} onChange={fact("supplier")} />
        <DayField label={text.filledOn} value={facts.filledOn} onChange={fact("filledOn")} />
        <DayField
          label={text.testedUntil}
          value={facts.testedUntil}
          onChange={fact("testedUntil")}
        />
      </div>
      {!ready && <p class="quiet">{text.missing}</p>}
      <ProblemNote answer={answer} />
      <div class="rack-buttons">
        <button
          type="button"
          class="button button-glove button-strong"
          disabled={!ready}
          onClick={() => void save()}
        >
          {text.addButton}
        </button>
      </div>
    </section>
  );
}

function DayField(props: { label: string; value: string; onChange: (value: string) => void }) {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{props.label}</label>
      <input
        id={id}
        type="date"
        value={props.value}
        onInput={(event) => props.onChange(event.currentTarget.value)}
      />
    </div>
  );
}

/** Random; `randomUUID` is missing on plain http. */
function freshId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(8));
  return `c-${Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("")}`;
}
