import type { ComponentChildren } from "preact";
import type { Answer } from "../api/client.ts";
import { words } from "../language/words.ts";
import { ProblemNote } from "./problem-note.tsx";

/** Foot of a dialog: what came of sending, and the buttons. */
export function DialogFooter(props: {
  answer: Answer<unknown> | null;
  /** What was said has been taken: nothing is left but to close. */
  sent?: boolean;
  onClose: () => void;
  children?: ComponentChildren;
}) {
  const { answer, sent = false, onClose, children } = props;
  return (
    <>
      <ProblemNote answer={answer} />
      {sent && (
        <p class="noted" role="status">
          {words.actions.sent}
        </p>
      )}
      <div class="dialog-actions">
        <button type="button" class="button button-glove" onClick={onClose}>
          {sent ? words.actions.close : words.actions.cancel}
        </button>
        {!sent && children}
      </div>
    </>
  );
}
