import { localMinute, unixOfLocal } from "@leeward/shared-core/time/zone.ts";
import { useId } from "preact/hooks";
import { words } from "../language/words.ts";

/** From and to as typed: local times of the site. */
export interface SpanText {
  from: string;
  to: string;
}

export function spanText(fromS: number, toS: number, zone: string): SpanText {
  return { from: localMinute(fromS, zone), to: localMinute(toS, zone) };
}

/** Unix s, the end not counted. */
export interface ExactSpan {
  from: number;
  to: number;
}

/** The minutes in which an exact span begins and ends. */
export function exactText({ from, to }: ExactSpan, zone: string): SpanText {
  return spanText(from, Math.max(from, to - 1), zone);
}

/** Unix seconds of a span; null where it is none. The minute typed as its end counts in full. */
export function spanOf(span: SpanText, zone: string): ExactSpan | null {
  const from = unixOfLocal(span.from, zone);
  const to = unixOfLocal(span.to, zone);
  return from === null || to === null || from >= to ? null : { from, to: to + 60 };
}

/** Two fields of date and time, in the site's own time. */
export function SpanFields(props: { value: SpanText; onChange: (span: SpanText) => void }) {
  const { value, onChange } = props;
  const id = useId();
  const field = (name: "from" | "to") => (
    <div class="field">
      <label for={`${id}-${name}`}>{words.span[name]}</label>
      <input
        id={`${id}-${name}`}
        type="datetime-local"
        value={value[name]}
        onChange={(event) => onChange({ ...value, [name]: event.currentTarget.value })}
      />
    </div>
  );
  return (
    <div class="fields span-fields">
      {field("from")}
      {field("to")}
    </div>
  );
}
