import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { SupplyDocument } from "@leeward/shared-core/documents/station.ts";
import { setupWords } from "../language/setup-words.ts";
import { Choice } from "../shell/choice.tsx";
import { CheckField } from "../shell/fields.tsx";
import { type FormPart, Group, Typed } from "./inputs.tsx";
import { formOf, newForm } from "./setup-form.ts";
import type { DropRegulators } from "./supply-plan.ts";

/** What the supply is called, and which stations draw from it. */
export function SupplyDrops(props: {
  part: FormPart;
  /** Stations of one's own at this site. */
  here: readonly StationView[];
  drops: readonly string[];
  /** The supply as the gateway has it; null where it has none yet. */
  stored: SupplyDocument | null;
  regulators: DropRegulators;
  onDrops: (drops: readonly string[]) => void;
  onRegulators: (regulators: DropRegulators) => void;
}) {
  const text = setupWords.supply;
  const { part, here, drops, stored, onDrops } = props;
  const fresh = here.filter(
    (one) =>
      drops.includes(one.station) && (stored === null || one.description.supply !== stored.supply),
  );

  function tick(view: StationView, yes: boolean): void {
    onDrops(yes ? [...drops, view.station] : drops.filter((one) => one !== view.station));
    // What the first one says of its cylinder is taken over, to be looked at. Its regulator may be its
    // own behind the supply's: nobody's safety is to rest on that guess.
    if (!yes || stored !== null || part.form.gas !== "" || !view.description.cylinder) return;
    const blank = newForm(part.form.site, "", part.units);
    const { stages, adjust, delivery, maxLine, relief, heated, ratedRegulator } = blank;
    const from = formOf(view.description, part.units);
    const { node } = from;
    part.set({
      ...from,
      ...{ stages, adjust, delivery, maxLine, relief, heated, ratedRegulator },
      name: part.form.name,
      supply: "",
      lineSensor: false,
      device: "",
      process: "",
      carried:
        node !== "" && view.description.sensors
          ? { node, sensors: { cylinder: view.description.sensors.cylinder } }
          : null,
    });
  }

  return (
    <Group>
      {stored === null ? (
        <Typed
          part={part}
          field="name"
          label={text.name}
          placeholder={text.namePlaceholder}
          words
        />
      ) : null}
      <fieldset class="choice" data-field="drops">
        <legend>{text.drops}</legend>
        {here.length === 0 && <p class="quiet">{text.noStations}</p>}
        {here.map((view) => {
          const elsewhere = view.description.supply;
          const drawn = stored !== null && elsewhere === stored.supply;
          return (
            <div key={view.id}>
              <CheckField
                label={elsewhere && !drawn ? text.drawsFrom(view.name, elsewhere) : view.name}
                checked={drops.includes(view.station)}
                onChange={(yes) => {
                  // Whoever draws from it must first be given a cylinder of its own.
                  if (!drawn && !elsewhere) tick(view, yes);
                }}
              />
              {drawn && (
                <p class="quiet">
                  {text.leave(view.name)}{" "}
                  <a href={`#/setup/station/${view.id}`}>{setupWords.change(view.name)}</a>
                </p>
              )}
            </div>
          );
        })}
        {drops.length === 0 && here.length > 0 && <p class="quiet">{text.tickOne}</p>}
      </fieldset>
      {fresh.length > 0 && (
        <>
          <Choice
            label={text.between}
            name="supply-regulators"
            value={props.regulators}
            options={[
              { value: "own", text: text.regulators.own },
              { value: "none", text: text.regulators.none },
            ]}
            onChange={props.onRegulators}
          />
          <p class="noted" data-field="takes-over">
            {text.takesOver(fresh.map(({ name }) => name).join(", "))}
          </p>
        </>
      )}
    </Group>
  );
}
