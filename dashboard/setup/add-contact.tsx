import { useState } from "preact/hooks";
import { setupWords } from "../language/setup-words.ts";
import { SelectField, TextField } from "../shell/fields.tsx";
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
      <legend>{text.addTitle}</legend>
      <div class="fields">
        <TextField
          label={text.contactName}
          value={adding.name}
          onChange={(name) => set({ name })}
        />
        <SelectField
          label={text.way}
          value={adding.kind}
          options={optionsOf(text.ways)}
          onChange={(kind) => set({ kind: kind as WayKind })}
        />
        {adding.kind === "email" && (
          <TextField
            label={text.to_}
            type="email"
            maxLength={254}
            value={adding.to}
            onChange={(to) => set({ to })}
          />
        )}
        {adding.kind === "webhook" && (
          <>
            <TextField
              label={text.webUrl}
              type="url"
              maxLength={500}
              value={adding.url}
              onChange={(url) => set({ url: url.trim() })}
            />
            <TextField
              label={text.secret}
              maxLength={200}
              value={adding.secret}
              describedBy="contact-secret-note"
              onChange={(secret) => set({ secret: secret.trim() })}
            />
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
