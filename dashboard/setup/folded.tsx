import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import { setupWords } from "../language/setup-words.ts";
import type { FormPart } from "./inputs.tsx";
import type { SetupForm } from "./setup-form.ts";

/**
 * Fields that mostly stay as they are, behind one line that says their values. It opens by itself,
 * and stays open, while one of them is at fault or not known.
 */
export function Usual(props: {
  part: FormPart;
  name: string;
  /** The fields behind it. */
  fields: readonly (keyof SetupForm)[];
  /** What their values are, said in a few words each; empty where there is nothing to say. */
  values: readonly (string | false)[];
  /** Stands where there is nothing to say. */
  title: string;
  /** One of them should be known and is not. */
  unknown?: boolean;
  children: ComponentChildren;
}) {
  const { part, fields, values, title } = props;
  const doubtful =
    props.unknown === true || part.checked.faults.some(({ field }) => fields.includes(field));
  const [open, setOpen] = useState(doubtful);
  useEffect(() => {
    if (doubtful) setOpen(true);
  }, [doubtful]);
  const line = values.filter(Boolean).join(", ");
  return (
    <details
      class="setup-usual"
      data-usual={props.name}
      open={open}
      onToggle={(event) => {
        // What is wrong stays in sight.
        if (doubtful) event.currentTarget.open = true;
        setOpen(event.currentTarget.open);
      }}
    >
      <summary>{line === "" ? title : line[0]?.toLocaleUpperCase() + line.slice(1)}</summary>
      {props.children}
    </details>
  );
}

/** The longer explanations of a step, for whoever asks. */
export function Help({ lines }: { lines: Readonly<Record<string, string>> }) {
  return (
    <details class="setup-help">
      <summary>{setupWords.help.title}</summary>
      {Object.entries(lines).map(([key, line]) => (
        <p key={key} class="quiet">
          {line}
        </p>
      ))}
    </details>
  );
}
