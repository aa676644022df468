import type { NodeView } from "@leeward/shared-core/api/setup.ts";
import { useState } from "preact/hooks";
import { stations } from "../api/store.ts";
import { ageInWords } from "../display/durations.ts";
import { setupWords as text } from "../language/setup-words.ts";
import { lendsCamera } from "../shell/camera.ts";
import { CodeScanner } from "./code-scanner.tsx";
import { EnrolPanel } from "./enrol-panel.tsx";
import { IdentifyButton } from "./identify-button.tsx";
import { type FormPart, Group, Typed } from "./inputs.tsx";
import { readNodeCode } from "./node-code.ts";
import { useNodes } from "./use-node.ts";

/** Id of another station that has this node; null where there is none. */
function ownerElsewhere(node: NodeView | undefined, base: string | null): string | null {
  const [kind, name] = node?.owner?.split(":") ?? [];
  const id = kind === "station" ? `${node?.site}.${name}` : null;
  return id === base ? null : id;
}

/** What people call the station (its id: `base`, where it is there already), and which node stands there. */
export function NodeStep({ part, base }: { part: FormPart; base: string | null }) {
  const { form, set } = part;
  const fixedSite = base !== null;
  const nodes = useNodes();
  const [typed, setTyped] = useState(form.node);
  const [scanning, setScanning] = useState(false);
  const [problem, setProblem] = useState("");
  const heard = nodes.find((one) => one.site === form.site && one.node === form.node);
  const owner = ownerElsewhere(heard, base);
  const free = nodes.filter(
    (one) =>
      (one.owner === null || (one === heard && owner === null)) &&
      (!fixedSite || one.site === form.site),
  );

  function take(code: string): void {
    setTyped(code);
    setProblem("");
    if (code.trim() === "") {
      set({ node: "" });
      return;
    }
    const found = readNodeCode(code, form.site);
    if (!found) setProblem(text.node.noCode);
    else if (fixedSite && found.site !== form.site) setProblem(text.node.otherSite(found.site));
    else set(found);
  }

  return (
    <>
      <Group>
        <Typed
          part={part}
          field="name"
          label={text.fields.name}
          placeholder={text.fields.namePlaceholder}
          words
        />
        <fieldset class="choice">
          <legend>{text.node.choose}</legend>
          {free.length === 0 && <p class="quiet">{text.node.noneFree}</p>}
          <div class="choice-row">
            {[...free, null].map((one) => (
              <label key={one?.id ?? ""} class="choice-option">
                <input
                  type="radio"
                  name="setup-node"
                  checked={
                    one ? form.node === one.node && form.site === one.site : form.node === ""
                  }
                  onChange={() => {
                    setProblem("");
                    setTyped(one?.node ?? "");
                    set(one ? { site: one.site, node: one.node } : { node: "" });
                  }}
                />
                <span>
                  {one ? one.node : text.node.without}
                  {one && (
                    <small>
                      {one.site}
                      {one.lastSample &&
                        `, ${text.node.heard(ageInWords(Math.max(0, (Date.now() - Date.parse(one.lastSample)) / 1000)))}`}
                    </small>
                  )}
                </span>
              </label>
            ))}
          </div>
        </fieldset>
        <div class="setup-code">
          <div class="field">
            <label for="setup-node-code">{text.node.typed}</label>
            <input
              id="setup-node-code"
              type="text"
              autoComplete="off"
              autoCapitalize="off"
              spellcheck={false}
              maxLength={200}
              value={typed}
              aria-invalid={problem ? "true" : undefined}
              aria-describedby={problem ? "setup-node-problem" : undefined}
              onInput={(event) => take(event.currentTarget.value)}
            />
          </div>
          {lendsCamera() && !scanning && (
            <button type="button" class="button" onClick={() => setScanning(true)}>
              {text.node.scan}
            </button>
          )}
        </div>
        {!lendsCamera() && (
          <p class="quiet">
            {text.node.noCamera} <a href="#/setup/phone">{text.phone}</a>
          </p>
        )}
        {scanning && (
          <CodeScanner
            onCode={(code) => {
              setScanning(false);
              take(code);
            }}
            onStop={() => setScanning(false)}
          />
        )}
        {problem && (
          <p id="setup-node-problem" class="field-fault" role="alert">
            {problem}
          </p>
        )}
        {form.node !== "" && problem === "" && !heard && <p class="quiet">{text.node.unheard}</p>}
        {owner !== null && (
          <p class="problem" role="alert" data-field="owned">
            {text.node.owned(form.node, stations.value.get(owner)?.name ?? owner)}{" "}
            <a href={`#/setup/station/${owner}`}>
              {text.change(stations.value.get(owner)?.name ?? owner)}
            </a>
          </p>
        )}
        {heard && <IdentifyButton id={heard.id} />}
      </Group>
      <EnrolPanel
        site={form.site}
        node={form.node}
        onMade={(made) => {
          if (form.node === "") take(`${made.site}/${made.node}`);
        }}
      />
    </>
  );
}
