import { orderedStations } from "../api/store.ts";
import { setupWords } from "../language/setup-words.ts";
import { CheckField, SelectField, TextField } from "../shell/fields.tsx";
import type { DeliveryChain, DeliverySettings } from "./setup-api.ts";

const priorities = ["high", "medium", "low"] as const;
/** Delays of a step that are offered, minutes. */
const delays = [0, 2, 5, 10, 15, 30, 60, 120] as const;

/** Who hears of which alarm, and who after that where nobody has seen it. */
export function ChainSection(props: {
  settings: DeliverySettings;
  change: (next: Partial<DeliverySettings>) => void;
}) {
  const text = setupWords.chains;
  const { settings, change } = props;
  const { chains, contacts } = settings;
  const set = (index: number, next: DeliveryChain) =>
    change({ chains: chains.map((chain, i) => (i === index ? next : chain)) });
  const firstContact = contacts[0]?.id;
  return (
    <fieldset class="setup-spans" data-field="chains">
      <legend>{text.title}</legend>
      <p class="quiet">{text.intro}</p>
      {chains.length === 0 && <p class="quiet">{text.none}</p>}
      {chains.map((chain, index) => (
        <Chain
          key={index}
          number={index + 1}
          chain={chain}
          settings={settings}
          onChange={(next) => set(index, next)}
          onRemove={() => change({ chains: chains.filter((_, i) => i !== index) })}
        />
      ))}
      {firstContact !== undefined && (
        <div>
          <button
            type="button"
            class="button"
            onClick={() =>
              change({
                chains: [
                  ...chains,
                  { priorities: ["high"], steps: [{ afterS: 0, contacts: [firstContact] }] },
                ],
              })
            }
          >
            {text.add}
          </button>
        </div>
      )}
      <Digest settings={settings} change={change} />
    </fieldset>
  );
}

function Chain(props: {
  number: number;
  chain: DeliveryChain;
  settings: DeliverySettings;
  onChange: (next: DeliveryChain) => void;
  onRemove: () => void;
}) {
  const text = setupWords.chains;
  const { number, chain, settings, onChange } = props;
  const last = chain.steps.at(-1);
  const setStep = (index: number, change: Partial<DeliveryChain["steps"][number]>) =>
    onChange({
      ...chain,
      steps: chain.steps.map((step, i) => (i === index ? { ...step, ...change } : step)),
    });
  return (
    <fieldset class="setup-chain" data-chain={number}>
      <legend>{text.chain(number)}</legend>
      <div class="setup-ticks">
        {priorities.map((priority) => (
          <CheckField
            key={priority}
            label={text.priorities[priority]}
            checked={chain.priorities.includes(priority)}
            onChange={(on) =>
              onChange({
                ...chain,
                priorities: priorities.filter((one) =>
                  one === priority ? on : chain.priorities.includes(one),
                ),
              })
            }
          />
        ))}
      </div>
      {chain.priorities.length === 0 && <p class="caution">{text.noPriority}</p>}
      <Stations chain={chain} onChange={onChange} />
      <ol class="setup-chain-steps">
        {chain.steps.map((step, index) => (
          <li key={index} data-step={index + 1}>
            <SelectField
              label={text.after}
              value={String(step.afterS)}
              options={delayOptions(step.afterS)}
              onChange={(value) => setStep(index, { afterS: Number(value) })}
            />
            <Ticks
              options={settings.contacts}
              chosen={step.contacts}
              onChange={(contacts) => setStep(index, { contacts })}
            />
            {step.contacts.length === 0 && <p class="caution">{text.nobody}</p>}
            {chain.steps.length > 1 && (
              <div>
                <button
                  type="button"
                  class="button"
                  onClick={() =>
                    onChange({ ...chain, steps: chain.steps.filter((_, i) => i !== index) })
                  }
                >
                  {text.removeStep}
                  <span class="visually-hidden">: {text.step(number, index + 1)}</span>
                </button>
              </div>
            )}
          </li>
        ))}
      </ol>
      <div class="setup-actions">
        <button
          type="button"
          class="button"
          onClick={() =>
            onChange({
              ...chain,
              steps: [...chain.steps, { afterS: (last?.afterS ?? 0) + 300, contacts: [] }],
            })
          }
        >
          {text.addStep}
          <span class="visually-hidden">: {text.chain(number)}</span>
        </button>
        <button type="button" class="button" onClick={props.onRemove}>
          {text.remove}
          <span class="visually-hidden">: {text.chain(number)}</span>
        </button>
      </div>
    </fieldset>
  );
}

/** Names to tick. */
function Ticks(props: {
  options: readonly { id: string; name: string }[];
  chosen: readonly string[];
  onChange: (chosen: string[]) => void;
}) {
  const { options, chosen, onChange } = props;
  return (
    <div class="setup-ticks">
      {options.map(({ id, name }) => (
        <CheckField
          key={id}
          label={name}
          checked={chosen.includes(id)}
          onChange={(on) => onChange(on ? [...chosen, id] : chosen.filter((one) => one !== id))}
        />
      ))}
    </div>
  );
}

/** All stations, or those that are ticked. */
function Stations(props: { chain: DeliveryChain; onChange: (next: DeliveryChain) => void }) {
  const text = setupWords.chains;
  const { chain, onChange } = props;
  const { stations, ...rest } = chain;
  const all = stations === undefined;
  return (
    <>
      <CheckField
        label={text.allStations}
        checked={all}
        onChange={(on) => onChange(on ? rest : { ...rest, stations: [] })}
      />
      {stations?.length === 0 && <p class="caution">{text.noStation}</p>}
      {!all && (
        <Ticks
          options={orderedStations.value}
          chosen={stations}
          onChange={(ticked) => onChange({ ...rest, stations: ticked })}
        />
      )}
    </>
  );
}

/** What no chain takes goes out together, once a day. */
function Digest(props: {
  settings: DeliverySettings;
  change: (next: Partial<DeliverySettings>) => void;
}) {
  const text = setupWords.chains;
  const { settings, change } = props;
  return (
    <fieldset class="setup-chain" data-field="digest">
      <legend>{text.digest}</legend>
      <p class="quiet">{text.digestNote}</p>
      <CheckField
        label={text.digestOn}
        checked={settings.digestAt !== null}
        onChange={(on) => change({ digestAt: on ? "07:00" : null })}
      />
      {settings.digestAt !== null && (
        <>
          <TextField
            narrow
            label={text.digestAt}
            type="time"
            value={settings.digestAt}
            onChange={(digestAt) => change({ digestAt })}
          />
          <Ticks
            options={settings.contacts}
            chosen={settings.digestTo}
            onChange={(digestTo) => change({ digestTo })}
          />
          {settings.contacts.length > 0 && settings.digestTo.length === 0 && (
            <p class="caution">{text.digestNobody}</p>
          )}
        </>
      )}
    </fieldset>
  );
}

function delayOptions(afterS: number): { value: string; text: string }[] {
  const text = setupWords.chains;
  const seconds = [...new Set([...delays.map((minutes) => minutes * 60), afterS])];
  return seconds
    .sort((a, b) => a - b)
    .map((value) => ({
      value: String(value),
      text: value === 0 ? text.atOnce : text.minutes(Math.round(value / 6) / 10),
    }));
}
