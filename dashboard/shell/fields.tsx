import { useId } from "preact/hooks";

/** A number with its label, large enough for gloves: steppers on both sides. */
export function NumberField(props: {
  label: string;
  /** Null where nothing is said yet: the field is empty, and there is nothing to step from. */
  value: number | null;
  step: number;
  min?: number;
  big?: boolean;
  onChange: (value: number) => void;
  /** It was emptied again; left out where the last number goes on to hold. */
  onEmpty?: () => void;
  less?: string;
  more?: string;
}) {
  const { label, value, step, min = 0, big, onChange, onEmpty } = props;
  const id = useId();
  const set = (next: number) => onChange(Math.max(min, Number(next.toFixed(6))));
  return (
    <div class={big ? "field field-big" : "field"}>
      <label for={id}>{label}</label>
      <div class="field-row">
        {props.less && (
          <button
            type="button"
            class="button field-step"
            aria-label={`${label}: ${props.less}`}
            disabled={value === null}
            onClick={() => set((value ?? 0) - step)}
          >
            −
          </button>
        )}
        <input
          id={id}
          type="number"
          inputMode="decimal"
          value={value ?? ""}
          min={min}
          step="any"
          onInput={(event) => {
            const typed = event.currentTarget.valueAsNumber;
            if (Number.isFinite(typed)) onChange(typed);
            else onEmpty?.();
          }}
        />
        {props.more && (
          <button
            type="button"
            class="button field-step"
            aria-label={`${label}: ${props.more}`}
            disabled={value === null}
            onClick={() => set((value ?? 0) + step)}
          >
            +
          </button>
        )}
      </div>
    </div>
  );
}

/** A text, or what the browser takes as an address or a time of day. */
export function TextField(props: {
  label: string;
  value: string;
  type?: "text" | "email" | "url" | "time";
  /** Id of the words that explain it. */
  describedBy?: string;
  placeholder?: string;
  maxLength?: number;
  /** Takes no more room than it needs. */
  narrow?: boolean;
  onChange: (value: string) => void;
}) {
  const id = useId();
  return (
    <div class={props.narrow ? "field setup-narrow" : "field"}>
      <label for={id}>{props.label}</label>
      <input
        id={id}
        // The typings want one literal a kind of input; all of these take the same.
        type={(props.type ?? "text") as "text"}
        value={props.value}
        placeholder={props.placeholder}
        maxLength={props.maxLength ?? 60}
        autoComplete="off"
        aria-describedby={props.describedBy}
        onInput={(event) => props.onChange(event.currentTarget.value)}
      />
    </div>
  );
}

/** One of several words. */
export function SelectField<T extends string>(props: {
  label: string;
  value: T;
  options: readonly { value: T; text: string }[];
  hint?: string;
  onChange: (value: T) => void;
}) {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{props.label}</label>
      <select
        id={id}
        value={props.value}
        aria-describedby={props.hint === undefined ? undefined : `${id}-hint`}
        onChange={(event) => {
          const found = props.options.find((one) => one.value === event.currentTarget.value);
          if (found) props.onChange(found.value);
        }}
      >
        {props.options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.text}
          </option>
        ))}
      </select>
      {props.hint !== undefined && (
        <small id={`${id}-hint`} class="field-hint">
          {props.hint}
        </small>
      )}
    </div>
  );
}

export function CheckField(props: {
  label: string;
  checked: boolean;
  onChange: (checked: boolean) => void;
}) {
  return (
    <label class="check">
      <input
        type="checkbox"
        checked={props.checked}
        onChange={(event) => props.onChange(event.currentTarget.checked)}
      />
      <span>{props.label}</span>
    </label>
  );
}
