import { useState } from "preact/hooks";
import { words } from "../language/words.ts";
import { TextField } from "./fields.tsx";
import { recallNames } from "./person.ts";

/** Who it is: by one tap where this device, or the list of contacts, knows the name; else typed. */
export function NameField(props: {
  name: string;
  known?: readonly string[];
  onChange: (name: string) => void;
}) {
  const [kept] = useState(recallNames);
  const names = [...new Set([...kept, ...(props.known ?? [])])];
  return (
    <div class="name-field">
      {names.length > 0 && (
        <div class="choice-row">
          {names.map((name) => (
            <button
              key={name}
              type="button"
              class="button button-glove"
              aria-pressed={name === props.name}
              onClick={() => props.onChange(name)}
            >
              {name}
            </button>
          ))}
        </div>
      )}
      <TextField label={words.seen.name} value={props.name} onChange={props.onChange} />
    </div>
  );
}
