import { useEffect, useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { setupWords } from "../language/setup-words.ts";
import { SelectField } from "../shell/fields.tsx";
import { ProblemNote } from "../shell/problem-note.tsx";
import {
  type DeliverySettings,
  getDelivery,
  getPushKey,
  subscribe,
  unsubscribe,
} from "./setup-api.ts";

const KEY = "leeward.push.1";

/** Lets this device take messages of alarms for a contact, or no more. */
export function PushPanel() {
  const text = setupWords.push;
  const [settings, setSettings] = useState<DeliverySettings | null>(null);
  const [chosen, setChosen] = useState("");
  const [kept, setKept] = useState(() => recall());
  const [answer, setAnswer] = useState<Answer<unknown> | null>(null);
  const [refused, setRefused] = useState("");
  useEffect(() => {
    void getDelivery().then((got) => {
      if (got.ok) setSettings(got.value.settings);
    });
  }, []);
  if (!settings || !globalThis.isSecureContext || !("PushManager" in globalThis)) return null;
  const contacts = settings.contacts.filter((one) => one.ways.some((way) => way.kind === "push"));
  const contact = contacts.find((one) => one.id === chosen) ?? contacts[0];

  async function take(): Promise<void> {
    if (!contact) return;
    setRefused("");
    if ((await Notification.requestPermission()) !== "granted") return setRefused(text.denied);
    const key = await getPushKey();
    if (!key.ok) return setAnswer(key);
    try {
      const registration = await navigator.serviceWorker.ready;
      const made = await registration.pushManager.subscribe({
        userVisibleOnly: true,
        applicationServerKey: key.value.publicKey,
      });
      const { endpoint, keys } = made.toJSON();
      const sent = await subscribe({ contact: contact.id, endpoint, keys });
      setAnswer(sent);
      if (sent.ok) setKept(keep({ id: sent.value.id, contact: contact.name }));
    } catch (error) {
      setRefused(text.failed(error instanceof Error ? error.message : String(error)));
    }
  }

  async function stop(): Promise<void> {
    if (!kept) return;
    const registration = await navigator.serviceWorker.ready;
    await (await registration.pushManager.getSubscription())?.unsubscribe();
    setAnswer(await unsubscribe(kept.id));
    setKept(keep(null));
  }

  return (
    <section class="setup-card" aria-labelledby="push-title">
      <h2 id="push-title">{text.title}</h2>
      {kept ? (
        <>
          <p role="status">{text.taking(kept.contact)}</p>
          <div>
            <button type="button" class="button" onClick={stop}>
              {text.stop}
            </button>
          </div>
        </>
      ) : contact ? (
        <>
          <SelectField
            label={text.contact}
            value={contact.id}
            options={contacts.map((one) => ({ value: one.id, text: one.name }))}
            onChange={setChosen}
          />
          <div>
            <button type="button" class="button button-strong" onClick={take}>
              {text.take}
            </button>
          </div>
        </>
      ) : (
        <p class="quiet">
          {text.nobody} <a href="#/setup/shop">{setupWords.shop}</a>
        </p>
      )}
      {refused && (
        <p class="problem" role="alert">
          {refused}
        </p>
      )}
      <ProblemNote answer={answer} />
    </section>
  );
}

interface Kept {
  id: string;
  contact: string;
}

function recall(): Kept | null {
  try {
    return JSON.parse(localStorage.getItem(KEY) ?? "null") as Kept | null;
  } catch {
    return null;
  }
}

function keep(kept: Kept | null): Kept | null {
  try {
    if (kept) localStorage.setItem(KEY, JSON.stringify(kept));
    else localStorage.removeItem(KEY);
  } catch {
    // Then it has to be taken back at the browser's own settings.
  }
  return kept;
}
