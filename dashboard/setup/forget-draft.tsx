import { setupWords } from "../language/setup-words.ts";
import type { DraftKeeper } from "./draft.ts";
import type { Draft } from "./draft-form.ts";

/** Lets go of what was begun on this device. */
export function ForgetDraft<D extends Draft<unknown>>(props: {
  of: DraftKeeper<D>;
  onForgotten: () => void;
}) {
  return (
    <button
      type="button"
      class="button"
      onClick={() => {
        props.of.drop();
        props.onForgotten();
      }}
    >
      {setupWords.forget}
    </button>
  );
}
