import { setupWords as text } from "../language/setup-words.ts";
import { CheckField, SelectField } from "../shell/fields.tsx";
import { Calibration } from "./calibration.tsx";
import { Help } from "./folded.tsx";
import { Day, type FormPart, Group, Typed } from "./inputs.tsx";
import { SafetyNote } from "./safety-note.tsx";
import type { SensorKind } from "./same-sensor.ts";
import { SanityCheck } from "./sanity-check.tsx";
import { gasOf } from "./setup-document.ts";

/** The node's pressure sensors: what they stand, and whether they tell the truth. */
export function SensorsStep({ part, begun }: { part: FormPart; begun: boolean }) {
  const { form, set, units, checked } = part;
  const fields = text.fields;
  const here = (path: string) => path.startsWith("sensors") || path.startsWith("regulator.rated");
  return (
    <>
      {form.supply === "" ? (
        <CylinderSensorGroup part={part} />
      ) : (
        <p class="quiet">{text.supply.sensorThere(form.supply)}</p>
      )}
      <Group title={text.groups.lineSensor}>
        <CheckField
          label={fields.lineSensor}
          checked={form.lineSensor}
          onChange={(lineSensor) => set({ lineSensor })}
        />
        {form.lineSensor && <SensorFields part={part} kind="line" />}
      </Group>
      <Ratings part={part} />
      <SafetyNote
        refusals={checked.refusals.filter((one) => here(one.path))}
        cautions={checked.cautions.filter((one) => here(one.path))}
        units={units}
      />
      <SanityCheck part={part} begun={begun} />
      <p class="caution">
        <strong>{`${text.fit.title}:`}</strong> {text.fit.note}
      </p>
      <Help lines={text.help.sensors} />
    </>
  );
}

/** The sensor between cylinder valve and regulator. */
export function CylinderSensorGroup({ part }: { part: FormPart }) {
  return (
    <Group title={text.groups.cylinderSensor}>
      <SensorFields part={part} kind="cylinder" />
    </Group>
  );
}

/** What a sensor stands, and behind a line its class, its place and its calibration. */
function SensorFields({ part, kind }: { part: FormPart; kind: SensorKind }) {
  const { form, set, units } = part;
  const { fields, groups } = text;
  const of = kind === "line" ? groups.lineSensor : groups.cylinderSensor;
  return (
    <>
      <div class="fields">
        <Typed part={part} field={`${kind}Range`} label={fields.range(units.pressure)} of={of} />
        <Typed part={part} field={`${kind}Proof`} label={fields.proof(units.pressure)} of={of} />
      </div>
      <Calibration part={part} kind={kind}>
        <div class="fields">
          {kind === "line" && (
            <SelectField
              label={fields.lineTap}
              value={form.lineTap}
              options={[
                { value: "regulator-outlet", text: fields.tapRegulator },
                { value: "hose", text: fields.tapHose },
              ]}
              onChange={(lineTap) => set({ lineTap })}
            />
          )}
          <Typed part={part} field={`${kind}Accuracy`} label={fields.accuracy} of={of} />
          <Day part={part} field={`${kind}Calibrated`} label={fields.calibrated} of={of} />
        </div>
      </Calibration>
    </>
  );
}

/** Ticks for what parts are rated for; only where the gas asks for it. */
export function Ratings({ part }: { part: FormPart }) {
  const { form, set } = part;
  const gas = gasOf(form.gas);
  const wanted = (gas?.H2 ?? 0) > 0 ? "flammable" : (gas?.O2 ?? 0) > 0.2 ? "oxidising" : null;
  if (wanted === null) return null;
  const tick = (field: "ratedRegulator" | "ratedCylinder" | "ratedLine", name: string) => (
    <CheckField
      label={text.rated[wanted](name)}
      checked={form[field].includes(wanted)}
      onChange={(yes) => {
        const others = form[field].filter((one) => one !== wanted);
        set({ [field]: yes ? [...others, wanted] : others });
      }}
    />
  );
  return (
    <Group title={text.rated.title}>
      <p class="quiet">{text.rated.note}</p>
      {tick("ratedRegulator", text.rated.regulator)}
      {form.cylinderRange !== "" && tick("ratedCylinder", text.rated.cylinder)}
      {form.lineSensor && form.lineRange !== "" && tick("ratedLine", text.rated.line)}
    </Group>
  );
}
