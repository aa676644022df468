import type { NodeView } from "@leeward/shared-core/api/setup.ts";
import { useEffect, useRef, useState } from "preact/hooks";
import { nowS } from "../api/store.ts";
import { ageInWords } from "../display/durations.ts";
import { isSetAside } from "../display/former-node.ts";
import { PHONE_HREF } from "../display/route.ts";
import { stoodText } from "../floor/unclaimed.tsx";
import { setupWords as text } from "../language/setup-words.ts";
import { lendsCamera } from "../shell/camera.ts";
import { CodeScanner } from "./code-scanner.tsx";
import { EnrolPanel } from "./enrol-panel.tsx";
import { IdentifyButton } from "./identify-button.tsx";
import { type FormPart, Group, Typed } from "./inputs.tsx";
import { readNodeCode } from "./node-code.ts";
import { OwnedNode, ownerOf } from "./owned-node.tsx";
import { sensorsForm } from "./setup-form.ts";
import { useKnownNodes } from "./use-node.ts";

/** What people call the station (its id: `base`, where it is there already), and which node stands there. */
export function NodeStep({ part, base }: { part: FormPart; base: string | null }) {
  const { form, set } = part;
  const fixedSite = base !== null;
  const known = useKnownNodes();
  const nodes = known ?? [];
  // A node that is given stands there alone, until another one is asked for.
  const [looking, setLooking] = useState(form.node === "");
  const [typed, setTyped] = useState(form.node);
  const byHand = useRef(false);
  const [scanning, setScanning] = useState(false);
  const [problem, setProblem] = useState("");
  const heard = nodes.find((one) => one.site === form.site && one.node === form.node);
  const whose = ownerOf(heard);
  const isHere = (one: NodeView | undefined) => {
    const place = ownerOf(one);
    return place !== null && "station" in place && place.station === base;
  };
  const owner = isHere(heard) ? null : whose;
  const before = part.base?.node ?? null;
  const demo = part.base?.virtual === true;
  const free = nodes.filter(
    (one) =>
      ((one.owner === null && !isSetAside(one, nowS.value)) ||
        isHere(one) ||
        (one === heard && owner === null)) &&
      (!fixedSite || one.site === form.site),
  );

  const sites = new Set(free.map(({ site }) => site));

  function take(code: string): void {
    setTyped(code);
    setProblem("");
    if (code.trim() === "") {
      set({ node: "" });
      return;
    }
    // A bare name is that of the one node that was heard by it, whatever its site.
    const bare = readNodeCode(code, form.site);
    const same =
      fixedSite || /[./]/.test(code) ? [] : nodes.filter(({ node }) => node === bare?.node);
    const [only] = same;
    const found = bare && only && same.length === 1 ? { site: only.site, node: only.node } : bare;
    if (!found) setProblem(text.node.noCode);
    else if (fixedSite && found.site !== form.site) setProblem(text.node.otherSite(found.site));
    else set(found);
  }

  // What was typed before the nodes were known is read again once they are.
  useEffect(() => {
    if (byHand.current && typed.trim() !== "" && !heard) take(typed);
  }, [nodes.length]);

  if (demo) {
    return (
      <Group>
        <Typed part={part} field="name" label={text.fields.name} words />
        <p class="noted" data-field="demo-node">
          {text.node.demoKeeps(before ?? "")}
        </p>
        {heard && <IdentifyButton id={heard.id} />}
      </Group>
    );
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
        {looking ? (
          <>
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
                          {[
                            sites.size > 1 && one.site,
                            heardText(one),
                            one.stood && stoodText(one.site, one),
                          ]
                            .filter(Boolean)
                            .join(", ")}
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
                  onInput={(event) => {
                    byHand.current = true;
                    take(event.currentTarget.value);
                  }}
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
                {text.node.noCamera} <a href={PHONE_HREF}>{text.phone}</a>
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
          </>
        ) : (
          <div class="setup-given" data-field="given-node">
            <strong>{form.node}</strong>
            <span class="quiet">{heard ? heardText(heard) : known && text.node.unheard}</span>
            {heard && <IdentifyButton id={heard.id} />}
            <button type="button" class="button" onClick={() => setLooking(true)}>
              {text.node.other}
            </button>
          </div>
        )}
        {problem && (
          <p id="setup-node-problem" class="field-fault" role="alert">
            {problem}
          </p>
        )}
        {looking && form.node !== "" && problem === "" && !heard && (
          <p class="quiet">{text.node.unheard}</p>
        )}
        {owner !== null && (
          <OwnedNode
            node={form.node}
            owner={owner}
            taken={form.taken?.node === form.node}
            onTake={(from) => {
              const sensors = from ? from.description.sensors : part.base?.sensors;
              set({
                ...(sensors ? sensorsForm(sensors, part.units) : {}),
                carried: from && sensors ? { node: form.node, sensors } : null,
                taken: from && { node: form.node, station: from.id },
              });
            }}
          />
        )}
        {before !== null && form.node !== "" && form.node !== before && !demo && (
          <p class="noted" data-field="node-replaced">
            {text.node.replaced(before)}
          </p>
        )}
        {looking && heard && <IdentifyButton id={heard.id} />}
      </Group>
      {/* What was heard was let in. */}
      {(looking || (known && !heard)) && (
        <EnrolPanel
          site={form.site}
          node={form.node}
          onMade={(made) => {
            if (form.node === "") take(`${made.site}/${made.node}`);
          }}
        />
      )}
    </>
  );
}

function heardText({ lastSample }: NodeView): string {
  if (!lastSample) return "";
  return text.node.heard(ageInWords(Math.max(0, (Date.now() - Date.parse(lastSample)) / 1000)));
}
