import { BAR_PA } from "@leeward/shared-core/units/factors.ts";
import { useState } from "preact/hooks";
import { pressureInUnit } from "../display/units.ts";
import { units } from "../settings/settings.ts";
import { FigureField } from "./fields.tsx";
import { figure } from "./figure.ts";

/** Bar in the viewer's unit, as one would type it. */
function shownText(bar: number | null): string {
  if (bar === null) return "";
  const shown = pressureInUnit(bar * BAR_PA, units.value);
  return String(Number(shown.toPrecision(4)));
}

/** A gauge pressure, typed in the viewer's unit and kept in bar; empty means unknown. */
export function PressureField(props: {
  /** The label for a unit, such as `psi`. */
  label: (unit: string) => string;
  bar: number | null;
  onChange: (bar: number | null) => void;
}) {
  const { bar, onChange } = props;
  const unit = units.value.pressure;
  const [typed, setTyped] = useState({ text: shownText(bar), bar, unit });
  // Another unit, or another value from outside: what was typed no longer stands for it.
  const current =
    typed.unit === unit && typed.bar === bar ? typed : { text: shownText(bar), bar, unit };
  return (
    <FigureField
      label={props.label(unit)}
      value={current.text}
      onChange={(text) => {
        const value = figure(text);
        const next = value === null ? null : value / pressureInUnit(BAR_PA, units.value);
        setTyped({ text, bar: next, unit });
        onChange(next);
      }}
    />
  );
}
