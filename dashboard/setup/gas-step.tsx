import { useState } from "preact/hooks";
import { temperatureUnit } from "../display/units.ts";
import { gasName } from "../display/weld-line.ts";
import { setupWords as text } from "../language/setup-words.ts";
import { SelectField } from "../shell/fields.tsx";
import { commonGases } from "./gas-list.ts";
import { type FormPart, Group, Typed } from "./inputs.tsx";
import { SafetyNote } from "./safety-note.tsx";
import { gasOf } from "./setup-document.ts";

/** The gas on the label, and the cylinder by its volume and pressure: no size's name is needed. */
export function GasStep({ part }: { part: FormPart }) {
  const { form, set, checked, units } = part;
  const listed = (commonGases as readonly string[]).includes(form.gas);
  const [other, setOther] = useState(!listed && form.gas !== "");
  const composition = gasOf(form.gas);
  const liquid = composition?.CO2 === 1;
  return (
    <>
      <Group>
        <div class="fields">
          <SelectField
            label={text.fields.gas}
            value={other ? "other" : form.gas}
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
          {other && <Typed part={part} field="gas" label={text.fields.designation} words />}
          <p class="quiet fields-wide">
            {other && composition ? `${gasName(composition)}. ` : ""}
            {text.fields.gasHint}
          </p>
          <Typed
            part={part}
            field="waterVolume"
            label={text.fields.waterVolume}
            hint={text.fields.waterVolumeHint}
          />
          <SelectField
            label={text.fields.volumeFrom}
            value={form.volumeFrom}
            options={[
              { value: "", text: text.fields.notSaid },
              { value: "stamped", text: text.fields.volumeStamped },
              { value: "catalogue", text: text.fields.volumeCatalogue },
            ]}
            onChange={(volumeFrom) => set({ volumeFrom })}
          />
          {liquid ? (
            <Typed part={part} field="filledKg" label={text.fields.filledKg} />
          ) : (
            <>
              <Typed part={part} field="filled" label={text.fields.filled(units.pressure)} />
              <Typed
                part={part}
                field="filledTemperature"
                label={text.fields.filledTemperature(temperatureUnit(units))}
              />
            </>
          )}
          <Typed
            part={part}
            field="residual"
            label={text.fields.residual(units.pressure)}
            hint={text.fields.residualHint}
          />
          <Typed part={part} field="count" label={text.fields.count} />
        </div>
      </Group>
      <SafetyNote
        refusals={checked.refusals.filter((one) => one.path.startsWith("cylinder"))}
        cautions={[]}
        units={units}
      />
    </>
  );
}
