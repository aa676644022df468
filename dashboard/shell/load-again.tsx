import { words } from "../language/words.ts";

/** A part of the program could not be fetched; the whole page fetched anew has it. */
export function LoadAgain() {
  return (
    <div class="empty" role="alert">
      <p>{words.state.pageMissing}</p>
      <button type="button" class="button button-glove" onClick={() => location.reload()}>
        {words.state.loadAgain}
      </button>
    </div>
  );
}
