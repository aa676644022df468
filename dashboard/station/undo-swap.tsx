import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { useEffect, useState } from "preact/hooks";
import { type Answer, undoableUntil, undoSwap } from "../api/client.ts";
import { timeZone } from "../api/store.ts";
import { clockTime } from "../display/durations.ts";
import { words } from "../language/words.ts";
import { NameField } from "../shell/name-field.tsx";
import { keepName, recallName } from "../shell/person.ts";
import { ProblemNote } from "../shell/problem-note.tsx";

/** Takes back a cylinder change that was told by mistake: who, and one button, while it can be. */
export function UndoSwap({ view }: { view: StationView }) {
  const { id, site } = view;
  const text = words.told;
  const [until, setUntil] = useState<string | null>(null);
  const [name, setName] = useState(() => recallName());
  const [answer, setAnswer] = useState<Answer<unknown> | null>(null);
  const [sending, setSending] = useState(false);

  useEffect(() => {
    let stopped = false;
    void undoableUntil(site, id).then((found) => {
      if (!stopped) setUntil(found);
    });
    return () => {
      stopped = true;
    };
  }, [site, id]);

  async function undo(): Promise<void> {
    setSending(true);
    const result = await undoSwap(id, name.trim());
    setSending(false);
    setAnswer(result);
    if (result.ok) keepName(name.trim());
  }

  if (answer?.ok) {
    return (
      <p class="noted" role="status">
        {text.undone}
      </p>
    );
  }
  if (until === null) return null;
  const time = clockTime(Date.parse(until) / 1000, timeZone.value);
  return (
    <div class="undo">
      <p class="quiet">{text.undoNote(time)}</p>
      <NameField name={name} onChange={setName} />
      <button
        type="button"
        class="button button-glove"
        disabled={sending || name.trim() === ""}
        onClick={undo}
      >
        {text.undo}
      </button>
      <ProblemNote answer={answer} />
    </div>
  );
}
