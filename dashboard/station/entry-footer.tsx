import type { ComponentChildren } from "preact";
import type { Answer } from "../api/client.ts";
import { words } from "../language/words.ts";
import { ProblemNote } from "../shell/problem-note.tsx";
import type { EntryState } from "./use-entry.ts";

/** Foot of a dialog: what came of sending, and the buttons. */
export function EntryFooter(props: {
  state: EntryState;
  answer: Answer<unknown> | null;
  onClose: () => void;
  children?: ComponentChildren;
}) {
  const { state, answer, onClose, children } = props;
  return (
    <>
      <ProblemNote answer={answer} />
      {state === "sent" && (
        <p class="noted" role="status">
          {words.actions.sent}
        </p>
      )}
      <div class="dialog-actions">
        <button type="button" class="button button-glove" onClick={onClose}>
          {state === "sent" ? words.actions.close : words.actions.cancel}
        </button>
        {state !== "sent" && children}
      </div>
    </>
  );
}
