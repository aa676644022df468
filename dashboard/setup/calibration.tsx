import { takenOut } from "@leeward/shared-core/documents/two-point.ts";
import { localDay } from "@leeward/shared-core/time/zone.ts";
import { BAR_PA } from "@leeward/shared-core/units/factors.ts";
import type { ComponentChildren } from "preact";
import { nowS, timeZone } from "../api/store.ts";
import { fixed } from "../display/numbers.ts";
import { setupWords } from "../language/setup-words.ts";
import { Choice } from "../shell/choice.tsx";
import { CheckField } from "../shell/fields.tsx";
import { Usual } from "./folded.tsx";
import { type FormPart, TypedText } from "./inputs.tsx";
import { isSameSensor, type SensorKind, sensorsBefore } from "./same-sensor.ts";
import { type CalibrationWish, sensorsForm } from "./setup-form.ts";
import { type FaultyText, twoPointOf } from "./two-point.ts";
import { barPerUnit, typedInLine } from "./typed.ts";
import { useNode } from "./use-node.ts";

/** Older than this a reading is not taken for what the gauge says now, s: an idle node packs every 60 s. */
const OLD_S = 90;

/** A sensor's zero and its two points against a gauge, and whether it is the sensor that was. */
export function Calibration({
  part,
  kind,
  children,
}: {
  part: FormPart;
  kind: SensorKind;
  /** What else stands behind the same line. */
  children: ComponentChildren;
}) {
  const text = setupWords.calibration;
  const { form, base, set, units, checked } = part;
  const stored = sensorsBefore(form, base)?.[kind];
  const node = useNode(form.site, form.node);
  const typed = form[`${kind}Calibration`];
  const same = isSameSensor(form, base, kind, units);
  // Only then the node reads with this range and with what stands.
  const settled =
    same && form.node !== "" && (form.carried?.node === form.node || base?.node === form.node);
  const change = (next: Partial<typeof typed>) =>
    set({ [`${kind}Calibration`]: { ...typed, ...next } });
  const choose = (wish: CalibrationWish) => {
    // Two points are a calibration of today; its zero alone is none.
    const day =
      wish === "two"
        ? localDay(nowS.peek(), timeZone.value)
        : sensorsForm(sensorsBefore(form, base), units)[`${kind}Calibrated`];
    set({ [`${kind}Calibration`]: { ...typed, wish }, [`${kind}Calibrated`]: day });
  };

  const measured = node?.measured[`${kind}-pressure`];
  const nowPa =
    measured && measured.ageS <= OLD_S && typeof measured.value === "number"
      ? measured.value
      : null;
  const decimals = (kind === "line" ? 3 : 2) - (units.pressure === "bar" ? 0 : 1);
  const inUnit = (bar: number) => bar / barPerUnit(units.pressure);
  const nowText = nowPa === null ? null : inUnit(nowPa / BAR_PA).toFixed(Math.max(0, decimals));

  const field = (name: FaultyText["text"]) => {
    const reads = name.endsWith("Reads");
    return (
      <div key={name}>
        <TypedText
          label={`${text.fields[name]}, ${units.pressure}`}
          value={typed[name]}
          fault={
            checked.faults.find((one) => one.field === `${kind}Calibration` && one.text === name)
              ?.fault
          }
          onInput={(value) => change({ [name]: value })}
        />
        {reads && nowText !== null && (
          <button
            type="button"
            class="button setup-take"
            data-take={name}
            onClick={() => change({ [name]: nowText })}
          >
            {text.take(`${fixed(Number(nowText), Math.max(0, decimals))} ${units.pressure}`)}
          </button>
        )}
      </div>
    );
  };

  const summed = (points: ReturnType<typeof twoPointOf>) => {
    if (!points) return null;
    const { zeroBar, spanShare } = takenOut(points);
    const signed = (value: number, places: number) =>
      `${value > 0 ? "+" : ""}${fixed(value, places)}`;
    return text.takesOut(
      `${signed(inUnit(zeroBar), Math.max(0, decimals))} ${units.pressure}`,
      signed(spanShare * 100, 1),
    );
  };
  const stands = same ? summed(stored?.twoPoint) : null;
  const made =
    typed.wish === "zero" || typed.wish === "two"
      ? summed(twoPointOf(form, kind, stored, units))
      : null;
  const { usual } = setupWords;
  const day = form[`${kind}Calibrated`];
  const faulty = checked.faults.some((one) => one.field === `${kind}Calibration`);

  return (
    <Usual
      part={part}
      name={`${kind}-sensor`}
      fields={[`${kind}Accuracy`, `${kind}Calibrated`, `${kind}Calibration`]}
      title={text.title}
      values={[
        kind === "line" && setupWords.fields[form.lineTap === "hose" ? "tapHose" : "tapRegulator"],
        form[`${kind}Accuracy`] !== "" && usual.class(typedInLine(form[`${kind}Accuracy`])),
        day === ""
          ? // A new one is as it was made.
            base !== null && stands === null && typed.wish === "keep" && usual.uncalibrated
          : usual.calibrated(day),
        stands !== null && typed.wish === "keep" && text.inForce,
        typed.wish !== "keep" && text.begun,
      ]}
    >
      {children}
      <h4>{text.title}</h4>
      {stored && base && (
        <CheckField
          label={text.replaced}
          checked={form[`${kind}Replaced`]}
          onChange={(replaced) => set({ [`${kind}Replaced`]: replaced })}
        />
      )}
      {stored && !same && (
        <p class="caution" data-field="calibration-gone">
          {text.gone}
        </p>
      )}
      {!settled && <p class="quiet">{text.saveFirst}</p>}
      {settled && (
        <>
          {stands && <p data-field="calibration-stands">{stands}</p>}
          <Choice
            label={text.wish}
            name={`calibration-${kind}`}
            value={typed.wish}
            options={[
              { value: "keep", text: stands ? text.wishes.keep : text.wishes.nothing },
              { value: "zero", text: text.wishes.zero },
              { value: "two", text: text.wishes.two },
              ...(stands ? [{ value: "none" as const, text: text.wishes.none }] : []),
            ]}
            onChange={choose}
          />
          {(typed.wish === "zero" || typed.wish === "two") && (
            <>
              <p class="caution">{text.safety}</p>
              <p>{typed.wish === "zero" ? text.zeroHow : text.twoHow}</p>
              <div class="fields">
                {typed.wish === "zero"
                  ? field("zeroReads")
                  : (["lowReads", "lowIs", "highReads", "highIs"] as const).map(field)}
              </div>
              {nowText === null && <p class="quiet">{text.silent}</p>}
              {made && !faulty && (
                <p class="noted" role="status" data-field="calibration-made">
                  {made}
                </p>
              )}
            </>
          )}
        </>
      )}
    </Usual>
  );
}
