import { signal } from "@preact/signals";
import type { ComponentChildren, ComponentType } from "preact";
import { useEffect } from "preact/hooks";
import type { ExplainedField } from "../display/explain.ts";
import { words } from "../language/words.ts";

/** What is being explained; null for most of the time. */
const asked = signal<{ id: string; fields: readonly ExplainedField[] } | null>(null);

type DialogProps = { id: string; fields: readonly ExplainedField[]; onClose: () => void };
const dialog = signal<ComponentType<DialogProps> | null>(null);

export function askHow(id: string, fields: readonly ExplainedField[]): void {
  asked.value = { id, fields };
}

/** A figure that explains itself when it is tapped. */
export function Explained(props: {
  id: string;
  field: ExplainedField;
  label: string;
  children: ComponentChildren;
}) {
  return (
    <button
      type="button"
      class="explained"
      title={words.station.howOne(props.label)}
      onClick={() => askHow(props.id, [props.field])}
    >
      {props.children}
    </button>
  );
}

/** Where explanations appear; it fetches them when the first one is asked for. */
export function Explainer() {
  const now = asked.value;
  useEffect(() => {
    if (!now || dialog.value) return;
    void import("./explain-dialog.tsx").then((module) => {
      dialog.value = module.ExplainDialog;
    });
  }, [now]);
  const Dialog = dialog.value;
  if (!now || !Dialog) return null;
  return (
    <Dialog
      {...now}
      onClose={() => {
        asked.value = null;
      }}
    />
  );
}
