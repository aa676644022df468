import { useEffect, useRef, useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { setupWords } from "../language/setup-words.ts";
import { CheckField } from "../shell/fields.tsx";
import { ProblemNote } from "../shell/problem-note.tsx";
import { AddContact } from "./add-contact.tsx";
import { ChainSection } from "./chain-section.tsx";
import { withoutContact } from "./contacts.ts";
import { MailFields } from "./mail-fields.tsx";
import { OutsideSection } from "./outside-section.tsx";
import {
  type DeliverySettings,
  getDelivery,
  getSent,
  putDelivery,
  type SentMessage,
  testDelivery,
} from "./setup-api.ts";

/** Who hears of alarms, quiet hours, and a test of each way. */
export function DeliverySection() {
  const text = setupWords.shopPage;
  const [settings, setSettings] = useState<DeliverySettings | null>(null);
  const [answer, setAnswer] = useState<Answer<unknown> | null>(null);
  // Contacts as the gateway has them: a test reaches only those.
  const [kept, setKept] = useState<ReadonlySet<string>>(new Set());
  const take = (got: DeliverySettings) => {
    setSettings(got);
    setKept(new Set(got.contacts.map((one) => one.id)));
  };
  useEffect(() => {
    void getDelivery().then((got) => {
      if (got.ok) take(got.value.settings);
      else setAnswer(got);
    });
  }, []);
  if (!settings) return <ProblemNote answer={answer} />;
  const change = (next: Partial<DeliverySettings>) => {
    setAnswer(null);
    setSettings({ ...settings, ...next });
  };

  async function save(): Promise<void> {
    if (!settings) return;
    const saved = await putDelivery(settings);
    setAnswer(saved);
    if (saved.ok) take(saved.value.settings);
  }

  return (
    <section class="setup-card" aria-labelledby="delivery-title">
      <h2 id="delivery-title">{text.delivery}</h2>
      {settings.contacts.length === 0 && <p class="quiet">{text.noContacts}</p>}
      <ul class="setup-list">
        {settings.contacts.map((contact) => (
          <li key={contact.id} class="setup-row" data-contact={contact.id}>
            <div>
              <h3>{contact.name}</h3>
              <p class="quiet">
                {contact.ways
                  .map(
                    (way) =>
                      `${wayName(way.kind)}${way.to || way.url ? ` ${String(way.to ?? way.url)}` : ""}`,
                  )
                  .join(", ")}
              </p>
            </div>
            <div class="setup-actions">
              {kept.has(contact.id) ? (
                <TestButton id={contact.id} name={contact.name} />
              ) : (
                <p class="quiet">{text.unsaved}</p>
              )}
              <button
                type="button"
                class="button"
                data-remove={contact.id}
                onClick={() => change(withoutContact(settings, contact.id))}
              >
                {text.removeContact(contact.name)}
              </button>
            </div>
          </li>
        ))}
      </ul>
      <AddContact settings={settings} change={change} />
      <OutsideSection settings={settings} />
      <ChainSection settings={settings} change={change} />
      <QuietHours settings={settings} change={change} />
      <MailFields settings={settings} change={change} />
      <div class="field">
        <label for="public-url">{text.publicUrl}</label>
        <input
          id="public-url"
          type="url"
          maxLength={200}
          value={settings.publicUrl ?? ""}
          onInput={(event) => change({ publicUrl: event.currentTarget.value || null })}
        />
      </div>
      <ProblemNote answer={answer} />
      <p role="status">{answer?.ok && text.saved}</p>
      <div class="setup-actions">
        <button type="button" class="button button-glove button-strong" onClick={save}>
          {text.saveDelivery}
        </button>
      </div>
    </section>
  );
}

function QuietHours(props: {
  settings: DeliverySettings;
  change: (next: Partial<DeliverySettings>) => void;
}) {
  const text = setupWords.shopPage;
  const { settings, change } = props;
  const quiet = settings.quietHours;
  const time = (name: "from" | "to") => (
    <div class="field">
      <label for={`quiet-${name}`}>{`${text.quiet}, ${text[name]}`}</label>
      <input
        id={`quiet-${name}`}
        type="time"
        value={quiet?.[name] ?? ""}
        onInput={(event) => {
          if (quiet) change({ quietHours: { ...quiet, [name]: event.currentTarget.value } });
        }}
      />
    </div>
  );
  return (
    <fieldset class="setup-spans">
      <legend>{text.quiet}</legend>
      <CheckField
        label={text.quietOn}
        checked={quiet !== null}
        onChange={(on) => change({ quietHours: on ? { from: "20:00", to: "06:00" } : null })}
      />
      {quiet && (
        <div class="fields">
          {time("from")}
          {time("to")}
        </div>
      )}
    </fieldset>
  );
}

const ASK_MS = 1000;
const PATIENCE_MS = 30_000;

/** Sends a test to a contact, and says how each of its ways went. */
function TestButton({ id, name }: { id: string; name: string }) {
  const text = setupWords.shopPage;
  const [messages, setMessages] = useState<readonly SentMessage[] | null>(null);
  const [answer, setAnswer] = useState<Answer<unknown> | null>(null);
  const over = useRef(false);
  useEffect(
    () => () => {
      over.current = true;
    },
    [],
  );

  async function send(): Promise<void> {
    setMessages([]);
    const sent = await testDelivery(id);
    setAnswer(sent);
    if (!sent.ok) return setMessages(null);
    const until = performance.now() + PATIENCE_MS;
    while (!over.current && performance.now() < until) {
      const got = await getSent(sent.value.ids);
      if (got.ok && !over.current) {
        setMessages(got.value.messages);
        if (got.value.messages.every((one) => one.state !== "waiting")) return;
      }
      await new Promise((resolve) => setTimeout(resolve, ASK_MS));
    }
  }

  return (
    <div>
      <button type="button" class="button" onClick={send}>
        {text.test(name)}
      </button>
      <p role="status">
        {messages?.length === 0 && text.testing}
        {messages
          ?.map(
            (one) =>
              `${wayName(one.way)}: ${text.testStates[one.state]}${one.lastError ? ` (${one.lastError})` : ""}`,
          )
          .join("; ")}
      </p>
      <ProblemNote answer={answer} />
    </div>
  );
}

function wayName(kind: string): string {
  const names: Readonly<Record<string, string>> = setupWords.shopPage.ways;
  return names[kind] ?? kind;
}
