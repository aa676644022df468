import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { ageInWords } from "../display/durations.ts";
import { locale } from "../language/live-words.ts";
import { setupWords } from "../language/setup-words.ts";
import type { DraftKeeper } from "./draft.ts";
import type { Draft } from "./draft-form.ts";
import { ForgetDraft } from "./forget-draft.tsx";

/** What is stored now. */
interface Now<D> {
  id: string;
  version: number;
  document: D;
}

/**
 * The form of what is stored, with what was begun on it on this device. Where it was saved anew
 * since, that is said first, and whoever typed it chooses what becomes of it.
 */
export function GoOn<D, Kept extends Draft<D>>(props: {
  of: DraftKeeper<Kept>;
  now: Now<D>;
  onTop: (draft: Kept, now: Now<D>) => Kept | null;
  /** Names of the steps in which something was changed. */
  changed: (before: D, now: D) => string[];
  children: (draft: Kept | null) => ComponentChildren;
}) {
  const { of, now } = props;
  const text = setupWords.outdated;
  const [kept, setKept] = useState(() => of.recallFor(now.id));
  if (!kept || kept.version === now.version) return <>{props.children(kept)}</>;
  const onTop = props.onTop(kept, now);
  const steps = kept.before ? props.changed(kept.before, now.document) : [];
  return (
    <div class="noted" role="status" data-field="outdated-draft">
      <p>
        {text.since(ageInWords(Math.max(0, (Date.now() - kept.keptMs) / 1000)))}{" "}
        {steps.length > 0 && text.changed(new Intl.ListFormat(locale.value).format(steps))}
      </p>
      <p>{onTop ? text.onTop : text.notOnTop}</p>
      <div class="setup-actions">
        {onTop && (
          <button
            type="button"
            class="button button-strong"
            onClick={() => {
              of.keep(onTop);
              setKept(onTop);
            }}
          >
            {text.keep}
          </button>
        )}
        <ForgetDraft of={of} onForgotten={() => setKept(null)} />
      </div>
    </div>
  );
}
