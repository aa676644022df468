import type { StationDocument, SupplyDocument } from "@leeward/shared-core/documents/station.ts";
import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";
import type { UnitChoice } from "../display/units.ts";
import { setupWords } from "../language/setup-words.ts";
import type { Checked, OwnFault, Step } from "./checks.ts";
import type { SetupForm, TextKey } from "./setup-form.ts";

/** What a step of the form works with. */
export interface FormPart {
  form: SetupForm;
  /** As it is stored; null where it is new. */
  base: StationDocument | null;
  /** The shared supply that the gas comes from. */
  supply: SupplyDocument | null;
  set: (change: Partial<SetupForm>) => void;
  checked: Checked;
  /** Of whoever types; document values are in bar and °C. */
  units: UnitChoice;
  goTo: (step: Step) => void;
}

/** A text or number as it is typed, with what is wrong about it below. */
export function Typed(props: {
  part: FormPart;
  field: TextKey;
  label: string;
  /** Whose it is, said to those who cannot see the heading above it. */
  of?: string;
  hint?: string | undefined;
  placeholder?: string;
  words?: boolean;
}) {
  const { part, field, ...rest } = props;
  return (
    <TypedText
      {...rest}
      value={part.form[field]}
      fault={part.checked.faults.find((one) => one.field === field)?.fault}
      onInput={(text) => part.set({ [field]: text })}
    />
  );
}

/** A text that is typed; `fault` stands below it once something is typed. */
export function TypedText(props: {
  label: string;
  of?: string;
  value: string;
  fault: OwnFault | undefined;
  hint?: string | undefined;
  placeholder?: string;
  words?: boolean;
  onInput: (text: string) => void;
}) {
  const { label, value, hint, words } = props;
  const id = useId();
  // An empty field is no fault to be shown in red: the check step lists what is needed.
  const shown = props.fault === undefined || value.trim() === "" ? null : props.fault;
  const described = [hint && `${id}-hint`, shown && `${id}-fault`].filter(Boolean).join(" ");
  return (
    <div class="field">
      <FieldLabel for={id} label={label} of={props.of} />
      <input
        id={id}
        type="text"
        inputMode={words ? "text" : "decimal"}
        autoComplete="off"
        autoCapitalize="off"
        spellcheck={false}
        maxLength={60}
        placeholder={props.placeholder}
        value={value}
        aria-invalid={shown ? "true" : undefined}
        aria-describedby={described || undefined}
        onInput={(event) => props.onInput(event.currentTarget.value)}
      />
      {hint && (
        <small id={`${id}-hint`} class="field-hint">
          {hint}
        </small>
      )}
      {shown && (
        <small id={`${id}-fault`} class="field-fault" role="alert">
          {setupWords.faults[shown]}
        </small>
      )}
    </div>
  );
}

function FieldLabel(props: { for: string; label: string; of?: string | undefined }) {
  return (
    <label for={props.for}>
      {props.label}
      {props.of && <span class="visually-hidden"> ({props.of})</span>}
    </label>
  );
}

/** A day, chosen by the device's own calendar; it may be left open. */
export function Day(props: {
  part: FormPart;
  field: "cylinderCalibrated" | "lineCalibrated";
  label: string;
  of?: string;
}) {
  const { part, field, label } = props;
  const id = useId();
  const fault = part.checked.faults.find((one) => one.field === field)?.fault;
  return (
    <div class="field">
      <FieldLabel for={id} label={label} of={props.of} />
      <input
        id={id}
        type="date"
        value={part.form[field]}
        aria-invalid={fault ? "true" : undefined}
        aria-describedby={fault ? `${id}-hint ${id}-fault` : `${id}-hint`}
        onInput={(event) => part.set({ [field]: event.currentTarget.value })}
      />
      <small id={`${id}-hint`} class="field-hint">
        {setupWords.optionalDay}
      </small>
      {fault && (
        <small id={`${id}-fault`} class="field-fault" role="alert">
          {setupWords.faults[fault]}
        </small>
      )}
    </div>
  );
}

/** A group of fields, under its heading where the step's own does not say it. */
export function Group({ title, children }: { title?: string; children: ComponentChildren }) {
  const id = useId();
  if (title === undefined) return <div class="setup-card">{children}</div>;
  return (
    <section class="setup-card" aria-labelledby={id}>
      <h3 id={id}>{title}</h3>
      {children}
    </section>
  );
}

/** Options of a select from a table of words. */
export function optionsOf<T extends string>(table: Readonly<Record<T, string>>) {
  return (Object.entries(table) as [T, string][]).map(([value, text]) => ({ value, text }));
}
