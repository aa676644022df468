import { useEffect, useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { saveFile } from "../bench/bench-api.ts";
import { setupWords } from "../language/setup-words.ts";
import { CheckField } from "../shell/fields.tsx";
import { ProblemNote } from "../shell/problem-note.tsx";
import { type NodeName, readNodeCode } from "./node-code.ts";
import { type Credentials, type EnrolledNodes, enrolNode, getEnrolled } from "./setup-api.ts";

const blank = { name: "", ownerKey: "", ssid: "", password: "", host: "", again: false };

/** A new node's credentials: the file to put on it, and the code to type there. */
export function EnrolPanel(props: {
  site: string;
  node: string;
  /** Called once a node has its credentials. */
  onMade: (node: NodeName) => void;
}) {
  const { site, node } = props;
  const text = setupWords.enrol;
  const [known, setKnown] = useState<EnrolledNodes | null>(null);
  const [form, setForm] = useState({ ...blank, name: node, host: gatewayHost() });
  const [answer, setAnswer] = useState<Answer<Credentials> | null>(null);
  const [working, setWorking] = useState(false);
  useEffect(() => {
    void getEnrolled().then((list) => {
      if (list.ok) setKnown(list.value);
    });
  }, []);
  if (!known) return null;
  const named = readNodeCode(form.name, site);
  const [madeSite = "", madeNode = ""] = answer?.ok ? answer.value.id.split(".") : [];
  const made = { site: madeSite, node: madeNode };

  async function make(): Promise<void> {
    if (!named) return;
    setWorking(true);
    const place = {
      ...(form.ssid === "" ? {} : { ssid: form.ssid, password: form.password }),
      ...(form.host === "" ? {} : { host: form.host }),
      ...(known?.broker.port == null ? {} : { port: known.broker.port }),
    };
    const made = await enrolNode(`${named.site}.${named.node}`, place, form.again, form.ownerKey);
    setAnswer(made);
    setWorking(false);
    if (made.ok) props.onMade(named);
  }

  const field = (name: "name" | "ownerKey" | "ssid" | "password" | "host", secret = false) => {
    const input = {
      id: `enrol-${name}`,
      autoComplete: "off",
      spellcheck: false,
      maxLength: 100,
      value: form[name],
      onInput: (event: { currentTarget: HTMLInputElement }) =>
        setForm({ ...form, [name]: event.currentTarget.value }),
    };
    return (
      <div class="field">
        <label for={input.id}>{text[name]}</label>
        {secret ? <input type="password" {...input} /> : <input type="text" {...input} />}
      </div>
    );
  };

  return (
    <details class="setup-card">
      <summary>{text.title}</summary>
      <p class="quiet">{known.broker.required ? text.needed : text.notNeeded}</p>
      <div class="fields">
        {field("name")}
        {known.ownerSet && field("ownerKey", true)}
        {field("ssid")}
        {field("password", true)}
        {field("host")}
        <CheckField
          label={text.again}
          checked={form.again}
          onChange={(again) => setForm({ ...form, again })}
        />
      </div>
      {form.name !== "" && !named && <p class="field-fault">{setupWords.node.noCode}</p>}
      {form.host === "" && <p class="caution">{text.address}</p>}
      <ProblemNote answer={answer} />
      {answer?.ok && (
        <div class="noted" role="status">
          <p>{text.once(made.site, made.node)}</p>
          <p>
            {text.codeLabel}: <code class="setup-secret">{answer.value.code}</code>
          </p>
          <button
            type="button"
            class="button"
            onClick={() => {
              const file = JSON.stringify(answer.value.provision);
              // Of no type, or browsers put an ending to the name.
              const blob = new Blob([file], { type: "application/octet-stream" });
              saveFile(blob, `provision-${made.site}-${made.node}`);
            }}
          >
            {text.save}
          </button>
        </div>
      )}
      <button type="button" class="button" disabled={working || !named} onClick={make}>
        {text.make}
      </button>
    </details>
  );
}

/** This page's own host, unless it is one that only this machine knows. */
function gatewayHost(): string {
  const { hostname } = location;
  return ["localhost", "127.0.0.1", "[::1]"].includes(hostname) ? "" : hostname;
}
