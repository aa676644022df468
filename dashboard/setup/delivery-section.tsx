import { useEffect, useRef, useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { setupWords } from "../language/setup-words.ts";
import { CheckField, SelectField } from "../shell/fields.tsx";
import { ProblemNote } from "../shell/problem-note.tsx";
import { ChainSection } from "./chain-section.tsx";
import { optionsOf } from "./inputs.tsx";
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
import { stationName } from "./station-name.ts";

type WayKind = "email" | "push" | "mqtt" | "node";

/** Who hears of alarms, quiet hours, and a test of each way. */
export function DeliverySection() {
  const text = setupWords.shopPage;
  const [settings, setSettings] = useState<DeliverySettings | null>(null);
  const [answer, setAnswer] = useState<Answer<unknown> | null>(null);
  const [adding, setAdding] = useState<{ name: string; kind: WayKind; to: string }>({
    name: "",
    kind: "email",
    to: "",
  });
  useEffect(() => {
    void getDelivery().then((got) => {
      if (got.ok) setSettings(got.value.settings);
      else setAnswer(got);
    });
  }, []);
  if (!settings) return <ProblemNote answer={answer} />;
  const change = (next: Partial<DeliverySettings>) => {
    setAnswer(null);
    setSettings({ ...settings, ...next });
  };

  function add(): void {
    if (!settings) return;
    const id = freeId(stationName(adding.name) ?? "contact", settings);
    const way = adding.kind === "email" ? { kind: "email", to: adding.to } : { kind: adding.kind };
    const first = settings.contacts.length === 0 && settings.chains.length === 0;
    change({
      contacts: [...settings.contacts, { id, name: adding.name.trim(), ways: [way] }],
      ...(first
        ? {
            chains: [
              {
                priorities: ["high", "medium", "low"],
                steps: [{ afterS: 0, contacts: [id] }],
              },
            ],
          }
        : {}),
    });
    setAdding({ ...adding, name: "", to: "" });
  }

  async function save(): Promise<void> {
    if (!settings) return;
    const saved = await putDelivery(settings);
    setAnswer(saved);
    if (saved.ok) setSettings(saved.value.settings);
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
                  .map((way) => `${wayName(way.kind)}${way.to ? ` ${String(way.to)}` : ""}`)
                  .join(", ")}
              </p>
            </div>
            <TestButton id={contact.id} name={contact.name} />
          </li>
        ))}
      </ul>
      <fieldset class="setup-spans">
        <legend>{text.add}</legend>
        <div class="fields">
          <div class="field">
            <label for="contact-name">{text.contactName}</label>
            <input
              id="contact-name"
              type="text"
              maxLength={60}
              value={adding.name}
              onInput={(event) => setAdding({ ...adding, name: event.currentTarget.value })}
            />
          </div>
          <SelectField
            label={text.way}
            value={adding.kind}
            options={optionsOf(text.ways).filter((one) => one.value !== "webhook")}
            onChange={(kind) => setAdding({ ...adding, kind: kind as WayKind })}
          />
          {adding.kind === "email" && (
            <div class="field">
              <label for="contact-to">{text.to_}</label>
              <input
                id="contact-to"
                type="email"
                value={adding.to}
                onInput={(event) => setAdding({ ...adding, to: event.currentTarget.value })}
              />
            </div>
          )}
        </div>
        <div>
          <button
            type="button"
            class="button"
            disabled={adding.name.trim() === "" || (adding.kind === "email" && adding.to === "")}
            onClick={add}
          >
            {text.add}
          </button>
        </div>
        <p class="quiet">
          {text.first} {text.mailNeeds}
        </p>
      </fieldset>
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

/** An identifier that no contact has yet. */
function freeId(wanted: string, { contacts }: DeliverySettings): string {
  const taken = new Set(contacts.map((one) => one.id));
  for (let n = 1; ; n++) {
    const id = n === 1 ? wanted : `${wanted.slice(0, 28)}-${n}`;
    if (!taken.has(id)) return id;
  }
}
