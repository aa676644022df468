import { setupWords as text } from "../language/setup-words.ts";
import { words } from "../language/words.ts";
import { CheckField, SelectField } from "../shell/fields.tsx";
import { Help, Usual } from "./folded.tsx";
import { type FormPart, Group, optionsOf, Typed } from "./inputs.tsx";
import { typedInLine } from "./typed.ts";

/** Regulator, flow device and hose. */
export function DeviceStep({ part }: { part: FormPart }) {
  const { form, set } = part;
  const fields = text.fields;
  const hose = form.hoseLength !== "" && form.hoseBore !== "";
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
      <Group>
        <div class="fields">
          <SelectField
            label={fields.device}
            value={form.device}
            options={[{ value: "", text: fields.notSaid }, ...optionsOf(words.claim.devices)]}
            onChange={(device) => set({ device })}
          />
          {form.device !== "" && <ScaleFields part={part} />}
        </div>
        {form.device !== "" && <UsualScale part={part} />}
      </Group>
      <Group>
        <Usual
          part={part}
          name="hose"
          fields={["hoseLength", "hoseBore"]}
          title={text.usual.hoseUnknown}
          unknown={!hose}
          values={[
            hose && text.usual.hose(typedInLine(form.hoseLength), typedInLine(form.hoseBore)),
          ]}
        >
          <div class="fields">
            <Typed part={part} field="hoseLength" label={fields.hoseLength} />
            <Typed part={part} field="hoseBore" label={fields.hoseBore} />
          </div>
        </Usual>
        <Help lines={text.help.device} />
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
        <Typed part={part} field="delivery" label={fields.delivery(units.pressure)} />
        <Typed
          part={part}
          field="relief"
          label={fields.relief(units.pressure)}
          hint={fields.reliefHint}
        />
      </div>
      <Usual
        part={part}
        name="regulator"
        fields={["maxLine"]}
        title={text.usual.regulator}
        values={[
          text.usual.stages[form.stages],
          form.adjust !== "" && fields[form.adjust],
          form.heated && text.usual.heated,
          form.maxLine !== "" && text.usual.upTo(`${typedInLine(form.maxLine)} ${units.pressure}`),
        ]}
      >
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
      </Usual>
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
        <Typed part={part} field="scalePressure" label={fields.scalePressure(units.pressure)} />
      )}
      {form.device === "orifice-gauge" && (
        <>
          <Typed part={part} field="dialPressure" label={fields.dialPressure(units.pressure)} />
          <Typed part={part} field="dialReading" label={fields.dialReading} />
        </>
      )}
      <Typed part={part} field="scaleMax" label={fields.scaleMax} />
    </>
  );
}

/** What mostly stays as it is with a device of this kind. */
function UsualScale({ part }: { part: FormPart }) {
  const { form, set } = part;
  const fields = text.fields;
  const { usual } = text;
  const tube = form.device === "variable-area";
  return (
    <Usual
      part={part}
      name="scale"
      fields={["scaleMin", "reading", "scaleGas"]}
      title={usual.scale}
      values={[
        tube && usual.valve[form.valve],
        tube && usual.float[form.float],
        tube && usual.readAt[form.readAt],
        form.scaleMin !== "" && usual.scaleFrom(typedInLine(form.scaleMin)),
        form.reading !== "" && usual.setTo(typedInLine(form.reading)),
        form.scaleGas !== "" && form.scaleGas,
      ]}
    >
      <div class="fields">
        {tube && (
          <>
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
        <Typed part={part} field="scaleMin" label={fields.scaleMin} hint={text.optional} />
        <Typed part={part} field="reading" label={fields.reading} hint={text.optional} />
        <Typed part={part} field="scaleGas" label={fields.scaleGas} hint={text.optional} words />
      </div>
    </Usual>
  );
}
