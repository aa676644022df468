import { useEffect, useState } from "preact/hooks";
import { words } from "../language/words.ts";
import { type PushContact, pushContacts, pushObstacle, subscribe } from "./push.ts";

/** Messages to this device: what is missing for them, or for whom it takes them. */
export function PushSection() {
  const text = words.push;
  const [contacts, setContacts] = useState<PushContact[] | null>(null);
  const [state, setState] = useState<"idle" | "working" | "done" | "failed">("idle");
  useEffect(() => {
    void pushContacts().then(setContacts);
  }, []);
  const obstacle = pushObstacle();
  const take = async (contact: string) => {
    setState("working");
    setState((await subscribe(contact)) ? "done" : "failed");
  };
  return (
    <fieldset class="choice" data-field="push">
      <legend>{text.title}</legend>
      {obstacle !== null ? (
        <p class="caution">{text.obstacle[obstacle]}</p>
      ) : contacts?.length === 0 ? (
        <p class="quiet">{text.nobody}</p>
      ) : (
        <div class="choice-row">
          {(contacts ?? []).map((contact) => (
            <button
              key={contact.id}
              type="button"
              class="button button-glove"
              disabled={state === "working"}
              onClick={() => void take(contact.id)}
            >
              {text.take(contact.name)}
            </button>
          ))}
        </div>
      )}
      {state === "done" && (
        <p class="noted" role="status">
          {text.done}
        </p>
      )}
      {state === "failed" && (
        <p class="problem" role="alert">
          {text.failed}
        </p>
      )}
    </fieldset>
  );
}
