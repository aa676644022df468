import { useId } from "preact/hooks";

/** A number as typed; empty means unknown. */
export function FigureField(props: {
  label: string;
  value: string;
  onChange: (value: string) => void;
}) {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{props.label}</label>
      <input
        id={id}
        inputMode="decimal"
        autoComplete="off"
        value={props.value}
        onInput={(event) => props.onChange(event.currentTarget.value)}
      />
    </div>
  );
}
