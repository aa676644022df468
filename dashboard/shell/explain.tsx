import { signal } from "@preact/signals";
import type { ComponentChildren, ComponentType } from "preact";
import { useEffect } from "preact/hooks";
import type { ExplainedField } from "../display/explain.ts";
import type { AskedFigure, PageFigure, Rest } from "../display/page-figures.ts";
import { words } from "../language/words.ts";
import { Dialog as Window } from "./dialog.tsx";
import { DialogFooter } from "./dialog-footer.tsx";
import { LoadAgain } from "./load-again.tsx";

/** What is asked about: figures of a station as it stands, or of a page as it was worked out. */
export type Asked =
  | { id: string; fields: readonly ExplainedField[] }
  | { title: string | null; figures: readonly AskedFigure[] };

/** What is being explained; null for most of the time. */
const asked = signal<Asked | null>(null);

const dialog = signal<ComponentType<{ asked: Asked; onClose: () => void }> | null>(null);
const missing = signal(false);

export function askHow(about: Asked): void {
  asked.value = about;
}

type About =
  | { id: string; field: ExplainedField | readonly ExplainedField[] }
  | { figure: PageFigure; rests?: () => readonly Rest[]; why?: string | null | undefined };

/** A figure that explains itself when it is tapped: one of a station, or one of a page. */
export function Explained(
  props: About & {
    label: string;
    children: ComponentChildren;
    /** Explained at a stop of the keyboard near it too: a tap of its own, and no further stop. */
    inRow?: boolean;
  },
) {
  const about = (): Asked =>
    "id" in props
      ? { id: props.id, fields: [props.field].flat() }
      : { title: null, figures: [figureOf(props, props.label)] };
  return (
    <button
      type="button"
      class="explained"
      title={words.station.howOne(props.label)}
      tabIndex={props.inRow ? -1 : undefined}
      onClick={() => askHow(about())}
    >
      {props.children}
    </button>
  );
}

function figureOf(about: Extract<About, { figure: PageFigure }>, label: string): AskedFigure {
  return { figure: about.figure, label, rests: about.rests?.(), why: about.why };
}

/** The one button of a row, or of a verdict, that explains all its figures. */
export function HowButton(props: { about: string; figures: () => readonly AskedFigure[] }) {
  return (
    <button
      type="button"
      class="how no-print"
      aria-label={words.station.howAll(props.about)}
      onClick={() => askHow({ title: props.about, figures: props.figures() })}
    >
      {words.station.how}
    </button>
  );
}

/** Where explanations appear; it fetches them when the first one is asked for. */
export function Explainer() {
  const now = asked.value;
  useEffect(() => {
    if (!now || dialog.value) return;
    missing.value = false;
    import("./explain-dialog.tsx").then(
      (module) => {
        dialog.value = module.ExplainDialog;
      },
      () => {
        missing.value = true;
      },
    );
  }, [now]);
  const Dialog = dialog.value;
  const close = () => {
    asked.value = null;
  };
  if (!now) return null;
  if (Dialog) return <Dialog asked={now} onClose={close} />;
  if (!missing.value) return null;
  return (
    <Window title={words.station.how} onClose={close}>
      <LoadAgain />
      <DialogFooter answer={null} onClose={close} />
    </Window>
  );
}
