import type { PersonEntry } from "@leeward/shared-core/estimation/engine.ts";
import { useState } from "preact/hooks";
import { type Answer, postEntry } from "../api/client.ts";

export type EntryState = "open" | "sending" | "sent";

/** Sends what a person said, once at a time, and keeps what came of it. */
export function useEntry(id: string): {
  state: EntryState;
  answer: Answer<unknown> | null;
  send<K extends Exclude<keyof PersonEntry, "undo">>(
    kind: K,
    entry: Pick<PersonEntry, K>,
  ): Promise<boolean>;
} {
  const [state, setState] = useState<EntryState>("open");
  const [answer, setAnswer] = useState<Answer<unknown> | null>(null);
  return {
    state,
    answer,
    async send(kind, entry) {
      setState("sending");
      const result = await postEntry(id, kind, entry);
      setAnswer(result);
      setState(result.ok ? "sent" : "open");
      return result.ok;
    },
  };
}
