import { useState } from "preact/hooks";
import { setupWords } from "../language/setup-words.ts";
import { SelectField } from "../shell/fields.tsx";
import { type DeliverySettings, newSecret, SECRET_LENGTH, withContact } from "./contacts.ts";
import { optionsOf } from "./inputs.tsx";

type WayKind = "email" | "push" | "webhook" | "mqtt" | "node";

const empty = { name: "", kind: "email" as WayKind, to: "", url: "", secret: "" };

/** Somebody to hear of alarms, with the one way to reach them. */
export function AddContact(props: {
  settings: DeliverySettings;
  change: (next: Partial<DeliverySettings>) => void;
}) {
  const text = setupWords.shopPage;
  const [adding, setAdding] = useState(empty);
  const set = (next: Partial<typeof empty>) => setAdding({ ...adding, ...next });
  const way = wayOf(adding);
  return (
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
            onInput={(event) => set({ name: event.currentTarget.value })}
          />
        </div>
        <SelectField
          label={text.way}
          value={adding.kind}
          options={optionsOf(text.ways)}
          onChange={(kind) => set({ kind: kind as WayKind })}
        />
        {adding.kind === "email" && (
          <div class="field">
            <label for="contact-to">{text.to_}</label>
            <input
              id="contact-to"
              type="email"
              value={adding.to}
              onInput={(event) => set({ to: event.currentTarget.value })}
            />
          </div>
        )}
        {adding.kind === "webhook" && (
          <>
            <div class="field">
              <label for="contact-url">{text.webUrl}</label>
              <input
                id="contact-url"
                type="url"
                maxLength={500}
                value={adding.url}
                onInput={(event) => set({ url: event.currentTarget.value.trim() })}
              />
            </div>
            <div class="field">
              <label for="contact-secret">{text.secret}</label>
              <input
                id="contact-secret"
                type="text"
                autocomplete="off"
                maxLength={200}
                value={adding.secret}
                aria-describedby="contact-secret-note"
                onInput={(event) => set({ secret: event.currentTarget.value.trim() })}
              />
            </div>
          </>
        )}
      </div>
      {adding.kind === "webhook" && <p id="contact-secret-note">{text.secretNote}</p>}
      <div class="setup-actions">
        {adding.kind === "webhook" && (
          <button type="button" class="button" onClick={() => set({ secret: newSecret() })}>
            {text.makeSecret}
          </button>
        )}
        <button
          type="button"
          class="button"
          disabled={adding.name.trim() === "" || way === null}
          onClick={() => {
            if (!way) return;
            props.change(withContact(props.settings, adding.name.trim(), way));
            setAdding({ ...empty, kind: adding.kind });
          }}
        >
          {text.add}
        </button>
      </div>
      <p class="quiet">
        {text.first} {text.mailNeeds}
      </p>
    </fieldset>
  );
}

/** The way as typed; null while something is missing. */
function wayOf(adding: typeof empty): DeliverySettings["contacts"][number]["ways"][number] | null {
  if (adding.kind === "email") return adding.to === "" ? null : { kind: "email", to: adding.to };
  if (adding.kind !== "webhook") return { kind: adding.kind };
  if (!/^https?:\/\/./.test(adding.url) || adding.secret.length < SECRET_LENGTH) return null;
  return { kind: "webhook", url: adding.url, secret: adding.secret };
}
