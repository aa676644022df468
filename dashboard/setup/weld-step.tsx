import { unsuitedGas } from "@leeward/shared-core/alarms/wrong-gas.ts";
import { demand } from "@leeward/shared-core/demand/index.ts";
import { limitFigure } from "../display/numbers.ts";
import { coreText } from "../language/core-words.ts";
import { setupWords as text } from "../language/setup-words.ts";
import { words } from "../language/words.ts";
import { CheckField, SelectField } from "../shell/fields.tsx";
import { Usual } from "./folded.tsx";
import { type FormPart, Group, optionsOf, Typed } from "./inputs.tsx";
import { gasOf } from "./setup-document.ts";
import { typedInLine } from "./typed.ts";

/** What is welded, in which room, and how much gas it needs. */
export function WeldStep({ part }: { part: FormPart }) {
  const { form, set } = part;
  const fields = text.fields;
  const tig = form.process === "GTAW";
  const known = Object.keys(words.actions.materials);
  const materials = [
    { value: "", text: fields.notSaid },
    ...optionsOf(words.actions.materials),
    // A material that was described by other words stays.
    ...(form.material === "" || known.includes(form.material)
      ? []
      : [{ value: form.material, text: form.material }]),
  ];
  return (
    <>
      <Group>
        <div class="fields">
          <SelectField
            label={fields.process}
            value={form.process}
            options={[{ value: "", text: fields.notSaid }, ...optionsOf(words.claim.processes)]}
            onChange={(process) => set({ process })}
          />
          <SelectField
            label={fields.material}
            value={form.material}
            options={materials}
            onChange={(material) => set({ material })}
          />
          {tig && <Typed part={part} field="cup" label={fields.cup} />}
          {tig && (
            <CheckField
              label={fields.gasLens}
              checked={form.gasLens}
              onChange={(gasLens) => set({ gasLens })}
            />
          )}
          {form.process !== "" && !tig && (
            <>
              <Typed part={part} field="nozzleBore" label={fields.nozzleBore} />
              <SelectField
                label={fields.transfer}
                value={form.transfer}
                options={[{ value: "", text: fields.notSaid }, ...optionsOf(fields.transfers)]}
                onChange={(transfer) => set({ transfer })}
              />
            </>
          )}
          <Typed part={part} field="amps" label={fields.amps} hint={text.optional} />
        </div>
        <Needs part={part} />
        <Usual
          part={part}
          name="weld"
          fields={["minimum", "target", "maximum", "altitude"]}
          title={text.usual.weld}
          values={[
            [form.minimum, form.target, form.maximum].some((one) => one !== "") &&
              text.usual.ownFlows,
            form.altitude !== "" && text.usual.altitude(typedInLine(form.altitude)),
          ]}
        >
          <p class="quiet">{fields.ownFlows}</p>
          <div class="fields">
            <Typed part={part} field="minimum" label={fields.minimum} hint={text.optional} />
            <Typed part={part} field="target" label={fields.target} hint={text.optional} />
            <Typed part={part} field="maximum" label={fields.maximum} hint={text.optional} />
            <Typed part={part} field="altitude" label={fields.altitude} hint={text.optional} />
          </div>
        </Usual>
      </Group>
      <Group>
        <div class="fields">
          <Typed part={part} field="room" label={fields.room} hint={text.optional} />
          <Typed part={part} field="airChanges" label={fields.airChanges} hint={text.optional} />
          <CheckField
            label={fields.confined}
            checked={form.confined}
            onChange={(confined) => set({ confined })}
          />
        </div>
      </Group>
    </>
  );
}

/** The window of flow that the weld needs, with what speaks against this gas. */
export function Needs({ part }: { part: FormPart }) {
  const { checked, units, form } = part;
  const procedure = checked.document?.procedure;
  const gas = checked.document?.cylinder?.composition ?? gasOf(form.gas);
  const found = procedure && gas ? demand(procedure, gas) : null;
  const unsuited = checked.document
    ? unsuitedGas({ station: checked.document, supply: part.supply })
    : null;
  const { minimumLpm, targetLpm, maximumLpm } = found?.window ?? {};
  // With no process there is nothing to look up: what is missing is said where it is chosen.
  if (form.process === "") return null;
  return (
    <div class="setup-needs" aria-live="polite" data-field="needs">
      {unsuited && (
        <p class="caution" data-unsuited={unsuited}>
          <strong>{text.unsuited.title}.</strong> {text.unsuited[unsuited]}
        </p>
      )}
      <strong>{text.weld.needs}</strong>
      <p>
        {typeof minimumLpm === "number" &&
        typeof targetLpm === "number" &&
        typeof maximumLpm === "number"
          ? text.weld.window(
              limitFigure(minimumLpm, units),
              limitFigure(targetLpm, units),
              limitFigure(maximumLpm, units),
              units.flow,
            )
          : text.weld.unknown}
      </p>
      {found && found.remarks.length > 0 && (
        <ul class="causes">
          {found.remarks.map((remark) => (
            <li key={remark}>{coreText(remark)}</li>
          ))}
        </ul>
      )}
    </div>
  );
}
