import { setupWords as text } from "../language/setup-words.ts";
import { words } from "../language/words.ts";
import { CheckField, SelectField } from "../shell/fields.tsx";
import { type FormPart, Group, optionsOf, Typed } from "./inputs.tsx";

/** Regulator, flow device and hose. */
export function DeviceStep({ part }: { part: FormPart }) {
  const { form, set } = part;
  const fields = text.fields;
  return (
    <>
      {form.supply !== "" && (
        <Group title={text.groups.regulator}>
          <CheckField
            label={text.supply.ownRegulator}
            checked={form.ownRegulator}
            onChange={(ownRegulator) => set({ ownRegulator })}
          />
        </Group>
      )}
      {(form.supply === "" || form.ownRegulator) && <RegulatorGroup part={part} />}
      <Group title={fields.device}>
        <div class="fields">
          <SelectField
            label={fields.device}
            value={form.device}
            options={[{ value: "", text: fields.notSaid }, ...optionsOf(words.claim.devices)]}
            onChange={(device) => set({ device })}
          />
          {form.device !== "" && <ScaleFields part={part} />}
        </div>
      </Group>
      <Group title={text.groups.hose}>
        <div class="fields">
          <Typed part={part} field="hoseLength" label={fields.hoseLength} />
          <Typed part={part} field="hoseBore" label={fields.hoseBore} />
        </div>
      </Group>
    </>
  );
}

/** The regulator's stages and pressures. */
export function RegulatorGroup({ part }: { part: FormPart }) {
  const { form, set, units } = part;
  const fields = text.fields;
  return (
    <Group title={text.groups.regulator}>
      <div class="fields">
        <SelectField
          label={fields.stages}
          value={form.stages}
          options={optionsOf(fields.stage)}
          onChange={(stages) => set({ stages })}
        />
        <SelectField
          label={fields.adjust}
          value={form.adjust}
          options={[
            { value: "", text: fields.notSaid },
            { value: "preset", text: fields.preset },
            { value: "screw", text: fields.screw },
          ]}
          onChange={(adjust) => set({ adjust })}
        />
        <Typed
          part={part}
          field="delivery"
          label={fields.delivery(units.pressure)}
          hint={fields.deliveryHint}
        />
        <Typed
          part={part}
          field="relief"
          label={fields.relief(units.pressure)}
          hint={fields.reliefHint}
        />
        <Typed
          part={part}
          field="maxLine"
          label={fields.maxLine(units.pressure)}
          hint={text.optional}
        />
        <CheckField
          label={fields.heated}
          checked={form.heated}
          onChange={(heated) => set({ heated })}
        />
      </div>
    </Group>
  );
}

/** What is printed on the device, and what it is set to. */
function ScaleFields({ part }: { part: FormPart }) {
  const { form, set, units } = part;
  const fields = text.fields;
  return (
    <>
      <SelectField
        label={fields.unit}
        value={form.unit}
        options={[
          { value: "L/min", text: "L/min" },
          { value: "CFH", text: "CFH" },
        ]}
        onChange={(unit) => set({ unit })}
      />
      {form.device === "variable-area" && (
        <>
          <Typed part={part} field="scalePressure" label={fields.scalePressure(units.pressure)} />
          <SelectField
            label={fields.valve}
            value={form.valve}
            options={[
              { value: "after-tube", text: fields.valveAfter },
              { value: "before-tube", text: fields.valveBefore },
            ]}
            onChange={(valve) => set({ valve })}
          />
          <SelectField
            label={fields.float}
            value={form.float}
            options={[
              { value: "ball", text: fields.ball },
              { value: "shaped", text: fields.shaped },
            ]}
            onChange={(float) => set({ float })}
          />
          <SelectField
            label={fields.readAt}
            value={form.readAt}
            options={optionsOf(fields.readAtParts)}
            onChange={(readAt) => set({ readAt })}
          />
        </>
      )}
      {form.device === "orifice-gauge" && (
        <>
          <Typed part={part} field="dialPressure" label={fields.dialPressure(units.pressure)} />
          <Typed part={part} field="dialReading" label={fields.dialReading} />
        </>
      )}
      <Typed part={part} field="scaleMin" label={fields.scaleMin} hint={text.optional} />
      <Typed part={part} field="scaleMax" label={fields.scaleMax} />
      <Typed part={part} field="reading" label={fields.reading} hint={text.optional} />
      <Typed part={part} field="scaleGas" label={fields.scaleGas} hint={text.optional} words />
    </>
  );
}
