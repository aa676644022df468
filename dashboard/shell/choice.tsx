/** A row of large buttons of which one is chosen. */
export function Choice<T extends string>(props: {
  label: string;
  /** Where the heading above says the same; it is still read out. */
  hideLabel?: boolean;
  name: string;
  value: T;
  /** `lang` where the text is in a language of its own. */
  options: readonly { value: T; text: string; note?: string; lang?: string }[];
  onChange: (value: T) => void;
}) {
  return (
    <fieldset class="choice">
      <legend class={props.hideLabel ? "visually-hidden" : undefined}>{props.label}</legend>
      <div class="choice-row">
        {props.options.map((option) => (
          <label key={option.value} class="choice-option">
            <input
              type="radio"
              name={props.name}
              value={option.value}
              checked={props.value === option.value}
              onChange={() => props.onChange(option.value)}
            />
            <span lang={option.lang}>
              {option.text}
              {option.note && <small>{option.note}</small>}
            </span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}
