import { useState } from "preact/hooks";
import { temperatureUnit } from "../display/units.ts";
import { gasName } from "../display/weld-line.ts";
import { setupWords as text } from "../language/setup-words.ts";
import { CheckField, SelectField } from "../shell/fields.tsx";
import { Help, Usual } from "./folded.tsx";
import { commonGases } from "./gas-list.ts";
import { type FormPart, Group, Typed } from "./inputs.tsx";
import { SafetyNote } from "./safety-note.tsx";
import type { SupplyView } from "./setup-api.ts";
import { gasOf } from "./setup-document.ts";
import { newForm, type SetupForm, unstamped } from "./setup-form.ts";
import { typedInLine, typedNumber } from "./typed.ts";
import { weighTexts, weighTyped } from "./weigh-points.ts";

/** Where the gas comes from: a shared supply, or a cylinder of the station's own. */
export function GasStep({ part, supplies }: { part: FormPart; supplies: readonly SupplyView[] }) {
  const { form, set } = part;
  const words = text.supply;
  const chosen = supplies.find(({ description }) => description.supply === form.supply);
  return (
    <>
      {(supplies.length > 0 || form.supply !== "") && (
        <Group>
          <SelectField
            label={words.from}
            value={form.supply}
            options={[
              { value: "", text: words.ownCylinder },
              ...(chosen || form.supply === "" ? [] : [{ value: form.supply, text: form.supply }]),
              ...supplies.map(({ description }) => ({
                value: description.supply,
                text: words.shared(description.supply, description.drops.length),
              })),
            ]}
            onChange={(supply) => {
              const found = supplies.find(({ description }) => description.supply === supply);
              if (found) set({ supply, gas: found.description.cylinder.gas });
              // A cylinder that is asked for the first time begins as that of a new station does.
              else set({ supply, ...(form.waterVolume === "" ? commonCylinder(part) : {}) });
            }}
          />
          {chosen && (
            <p data-field="supply">
              {words.holds(
                gasName(chosen.description.cylinder.composition),
                chosen.description.cylinder.count,
              )}{" "}
              <a href={`#/setup/supply/${chosen.id}`}>{words.change(form.supply)}</a>
            </p>
          )}
        </Group>
      )}
      {form.supply === "" && <CylinderFields part={part} />}
    </>
  );
}

function commonCylinder({ form, units }: FormPart): Partial<SetupForm> {
  const fresh = newForm(form.site, form.node, units);
  const { waterVolume, volumeFrom, count, filled, filledTemperature, residual } = fresh;
  return { waterVolume, volumeFrom, count, filled, filledTemperature, residual };
}

/** The gas on the label, and the cylinder by its volume and pressure: no size's name is needed. */
export function CylinderFields({ part }: { part: FormPart }) {
  const { form, base, set, checked, units } = part;
  const listed = (commonGases as readonly string[]).includes(form.gas);
  const [other, setOther] = useState(!listed && form.gas !== "");
  const [unticked, setUnticked] = useState(() => unstamped(form, base, units));
  const composition = gasOf(form.gas);
  const liquid = composition?.CO2 === 1;
  return (
    <>
      <Group>
        <div class="fields">
          <SelectField
            label={text.fields.gas}
            value={other ? "other" : form.gas}
            hint={text.fields.gasHint}
            options={[
              { value: "", text: text.fields.chooseGas },
              ...commonGases.map((gas) => ({
                value: gas as string,
                text: `${gas} (${gasName(gasOf(gas) ?? {})})`,
              })),
              { value: "other", text: text.fields.otherGas },
            ]}
            onChange={(gas) => {
              setOther(gas === "other");
              if (gas !== "other") set({ gas });
            }}
          />
          {other && (
            <Typed
              part={part}
              field="gas"
              label={text.fields.designation}
              hint={composition ? gasName(composition) : undefined}
              words
            />
          )}
          <Typed part={part} field="waterVolume" label={text.fields.waterVolume} />
          <CheckField
            label={text.fields.volumeStamped}
            checked={form.volumeFrom === "stamped"}
            onChange={(stamped) => {
              if (stamped) setUnticked(form.volumeFrom);
              set({ volumeFrom: stamped ? "stamped" : unticked });
            }}
          />
          {liquid ? (
            <>
              <Typed part={part} field="filledKg" label={text.fields.filledKg} />
              <Typed
                part={part}
                field="tareKg"
                label={text.fields.tareKg}
                hint={text.fields.tareKgHint}
              />
            </>
          ) : (
            <Typed part={part} field="filled" label={text.fields.filled(units.pressure)} />
          )}
        </div>
        <Usual
          part={part}
          name="filling"
          fields={liquid ? ["residual", "count"] : ["filledTemperature", "residual", "count"]}
          title={text.usual.filling}
          unknown={form.residual === ""}
          values={[
            !liquid &&
              form.filledTemperature !== "" &&
              `${typedInLine(form.filledTemperature)} ${temperatureUnit(units)}`,
            form.residual !== "" &&
              text.usual.changeAt(`${typedInLine(form.residual)} ${units.pressure}`),
            (typedNumber(form.count) ?? 1) !== 1 &&
              text.usual.cylinders(typedNumber(form.count) ?? 1),
          ]}
        >
          <div class="fields">
            {!liquid && (
              <Typed
                part={part}
                field="filledTemperature"
                label={text.fields.filledTemperature(temperatureUnit(units))}
              />
            )}
            <Typed
              part={part}
              field="residual"
              label={text.fields.residual(units.pressure)}
              hint={text.fields.residualHint}
            />
            <Typed part={part} field="count" label={text.fields.count} />
          </div>
        </Usual>
        {(liquid || weighTyped(form)) && (
          <Usual
            part={part}
            name="weigh"
            fields={weighTexts}
            title={text.weigh.title}
            values={[weighTyped(form) && text.weigh.inForce]}
          >
            <p>{text.weigh.how}</p>
            <div class="fields">
              {weighTexts.map((field) => (
                <Typed key={field} part={part} field={field} label={text.weigh[field]} />
              ))}
            </div>
          </Usual>
        )}
        <Help lines={text.help.gas} />
      </Group>
      <SafetyNote
        refusals={checked.refusals.filter((one) => one.path.startsWith("cylinder"))}
        cautions={[]}
        units={units}
      />
    </>
  );
}
