import { useState } from "preact/hooks";
import { ageInWords } from "../display/durations.ts";
import { fixed, linePressureText, temperatureText } from "../display/numbers.ts";
import { temperatureUnit, type UnitChoice } from "../display/units.ts";
import { setupWords } from "../language/setup-words.ts";
import { words } from "../language/words.ts";
import { CheckField } from "../shell/fields.tsx";
import { type FormPart, Group } from "./inputs.tsx";
import { allGood, type SanityRow, type SensorClass, sanity } from "./sanity.ts";
import { typedBar, typedCelsius, typedNumber } from "./typed.ts";
import { useNode } from "./use-node.ts";

/** Live values of the unfitted sensors against the open air; `begun`: the station was there before. */
export function SanityCheck({ part, begun }: { part: FormPart; begun: boolean }) {
  const text = setupWords.sanity;
  const { form, units } = part;
  const node = useNode(form.site, form.node);
  const [airText, setAir] = useState("");
  const [fitted, setFitted] = useState(begun);
  const air = typedCelsius(airText, units.temperature);
  const rows = node
    ? sanity(
        node,
        {
          cylinder: classOf(form.cylinderRange, form.cylinderAccuracy, units),
          line: classOf(form.lineRange, form.lineAccuracy, units),
          lineFitted: form.lineSensor,
        },
        air !== null && Number.isFinite(air) ? air : null,
      )
    : [];
  // True readings make no dangerous set-up fit to be built.
  const dangerous = part.checked.refusals.length > 0;
  const thermometers = rows.some(({ channel }) => channel.endsWith("temperature"));
  // Until a range is typed there is nothing to hold a reading against.
  const judged = rows.some(({ state }) => state !== "no-class");
  const fits = allGood(rows) && !dangerous;
  return (
    <Group title={text.title}>
      <p>{text.note}</p>
      <CheckField label={text.fitted} checked={fitted} onChange={setFitted} />
      {fitted && <p class="quiet">{text.fittedNote}</p>}
      {!fitted && node === null && <p class="quiet">{text.noNode}</p>}
      {!fitted && node && judged && (
        <>
          {thermometers && (
            <div class="field setup-air">
              <label for="setup-air">{text.air(temperatureUnit(units))}</label>
              <input
                id="setup-air"
                type="text"
                inputMode="decimal"
                autoComplete="off"
                value={airText}
                onInput={(event) => setAir(event.currentTarget.value)}
              />
            </div>
          )}
          <div class="setup-scroll" data-field="sanity">
            <table class="setup-table">
              <thead class="visually-hidden">
                <tr>
                  <th scope="col">{text.column.what}</th>
                  <th scope="col">{text.column.reads}</th>
                  <th scope="col">{text.column.may}</th>
                  <th scope="col">
                    <span class="visually-hidden">{text.title}</span>
                  </th>
                </tr>
              </thead>
              <tbody>
                {rows.map((row) => (
                  <tr key={row.channel} data-channel={row.channel} data-state={row.state}>
                    <th scope="row">{words.floor.channels[row.channel]}</th>
                    <td>{valueText(row, units)}</td>
                    <td>{limitText(row, units)}</td>
                    <td>
                      {text.states[row.state]}
                      {row.fault && `: ${row.fault}`}
                      {row.state === "old" &&
                        ` (${ageInWords(node.measured[row.channel]?.ageS ?? 0)})`}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
          <p role="status" class={fits ? "noted" : "quiet"} data-good={fits}>
            {fits ? text.good : dangerous && allGood(rows) ? text.dangerous : text.notGood}
          </p>
        </>
      )}
    </Group>
  );
}

function classOf(range: string, accuracy: string, units: UnitChoice): SensorClass | null {
  const rangeBar = typedBar(range, units.pressure);
  const accuracyPercentFs = typedNumber(accuracy);
  if (!rangeBar || !accuracyPercentFs) return null;
  return { rangeBar, accuracyPercentFs };
}

function valueText(row: SanityRow, units: UnitChoice): string {
  if (row.channel.endsWith("temperature")) return temperatureText(row.value, units);
  return linePressureText(row.value, units);
}

function limitText(row: SanityRow, units: UnitChoice): string {
  if (row.limit === null) return "–";
  if (!row.channel.endsWith("temperature")) {
    const text = `± ${linePressureText(row.limit, units)}`;
    // The reading beside it says the unit already.
    return row.value === null ? text : text.slice(0, -units.pressure.length - 1);
  }
  const kelvin = units.temperature === "F" ? row.limit * 1.8 : row.limit;
  return `± ${fixed(kelvin, 0)} ${temperatureUnit(units)}`;
}
