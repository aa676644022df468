import {
  commonGases,
  type DeviceKind,
  type NewStationForm,
  type Process,
} from "../display/new-station.ts";
import { gasName } from "../display/weld-line.ts";
import { words } from "../language/words.ts";
import { CheckField, NumberField, SelectField, TextField } from "../shell/fields.tsx";

/** The small form of a new station. What it does not ask can be refined later. */
export function NewStationFields(props: {
  form: NewStationForm;
  onChange: (form: NewStationForm) => void;
}) {
  const text = words.claim;
  const { form } = props;
  const set = (change: Partial<NewStationForm>) => props.onChange({ ...form, ...change });
  const liquid = form.gas === "C1-C";
  return (
    <div class="fields">
      <TextField
        label={text.name}
        value={form.name}
        placeholder={text.namePlaceholder}
        onChange={(name) => set({ name })}
      />
      <SelectField
        label={text.process}
        value={form.process}
        options={Object.entries(text.processes).map(([value, label]) => ({ value, text: label }))}
        onChange={(value) => set({ process: value as Process })}
      />
      {form.process === "GTAW" ? (
        <NumberField label={text.cup} value={form.cup} step={1} onChange={(cup) => set({ cup })} />
      ) : (
        <NumberField
          label={text.nozzle}
          value={form.nozzleBoreMm}
          step={1}
          onChange={(nozzleBoreMm) => set({ nozzleBoreMm })}
        />
      )}
      <SelectField
        label={text.gas}
        value={form.gas}
        options={commonGases.map((entry) => ({
          value: entry.gas,
          text: `${gasName(entry.composition)} (${entry.gas})`,
        }))}
        onChange={(gas) => set({ gas })}
      />
      <p class="quiet fields-wide">{text.label}</p>
      <NumberField
        label={text.waterVolume}
        value={form.waterVolumeL}
        step={1}
        onChange={(waterVolumeL) => set({ waterVolumeL })}
      />
      {liquid ? (
        <NumberField
          label={text.filledKg}
          value={form.filledKg}
          step={1}
          onChange={(filledKg) => set({ filledKg })}
        />
      ) : (
        <NumberField
          label={text.filledBar}
          value={form.filledBar}
          step={10}
          onChange={(filledBar) => set({ filledBar })}
        />
      )}
      <NumberField
        label={text.residual}
        value={form.residualBar}
        step={1}
        onChange={(residualBar) => set({ residualBar })}
      />
      <SelectField
        label={text.device}
        value={form.device}
        options={Object.entries(text.devices).map(([value, label]) => ({ value, text: label }))}
        onChange={(value) => set({ device: value as DeviceKind })}
      />
      <SelectField
        label={text.unit}
        value={form.unit}
        options={[
          { value: "L/min", text: "L/min" },
          { value: "CFH", text: "CFH" },
        ]}
        onChange={(value) => set({ unit: value === "CFH" ? "CFH" : "L/min" })}
      />
      <NumberField
        label={text.scaleMax}
        value={form.scaleMax}
        step={1}
        onChange={(scaleMax) => set({ scaleMax })}
      />
      {form.device === "variable-area" && (
        <NumberField
          label={text.scaleBar}
          value={form.scaleBar}
          step={0.1}
          onChange={(scaleBar) => set({ scaleBar })}
        />
      )}
      {form.device === "orifice-gauge" && (
        <>
          <NumberField
            label={text.dialPoint}
            value={form.dialBar}
            step={0.1}
            onChange={(dialBar) => set({ dialBar })}
          />
          <NumberField
            label={text.dialReading}
            value={form.dialReading}
            step={1}
            onChange={(dialReading) => set({ dialReading })}
          />
        </>
      )}
      <NumberField
        label={text.delivery}
        value={form.deliveryBar}
        step={0.1}
        onChange={(deliveryBar) => set({ deliveryBar })}
      />
      <NumberField
        label={text.cylinderRange}
        value={form.cylinderRangeBar}
        step={10}
        onChange={(cylinderRangeBar) => set({ cylinderRangeBar })}
      />
      <CheckField
        label={text.line}
        checked={form.lineSensor}
        onChange={(lineSensor) => set({ lineSensor })}
      />
      {form.lineSensor && (
        <NumberField
          label={text.lineRange}
          value={form.lineRangeBar}
          step={1}
          onChange={(lineRangeBar) => set({ lineRangeBar })}
        />
      )}
      <p class="quiet fields-wide">{text.later}</p>
    </div>
  );
}
