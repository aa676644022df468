import { setupWords } from "../language/setup-words.ts";

/** A stretch of the week; every day where `days` is left out. 1 is Monday. */
export interface Span {
  days?: number[];
  from: string;
  to: string;
}

/** Stretches of the week, each with its days and times. */
export function SpanList(props: {
  title: string;
  note: string;
  name: string;
  spans: Span[];
  onChange: (spans: Span[]) => void;
}) {
  const { title, note, name, spans, onChange } = props;
  const text = setupWords.shopPage;
  const put = (k: number, change: Partial<Span>) =>
    onChange(spans.map((one, j) => (j === k ? { ...one, ...change } : one)));
  return (
    <fieldset class="setup-spans">
      <legend>{title}</legend>
      <p class="quiet">{note}</p>
      {spans.map((span, k) => (
        <div key={k} class="setup-span" data-span={name}>
          <div class="setup-days">
            {text.dayNames.map((day, d) => (
              <label key={day} class="check">
                <input
                  type="checkbox"
                  checked={span.days === undefined || span.days.includes(d + 1)}
                  onChange={(event) => put(k, daysWith(span, d + 1, event.currentTarget.checked))}
                />
                <span>{day}</span>
              </label>
            ))}
          </div>
          <div class="field">
            <label for={`${name}-from-${k}`}>{text.from}</label>
            <input
              id={`${name}-from-${k}`}
              type="time"
              value={span.from}
              onInput={(event) => put(k, { from: event.currentTarget.value })}
            />
          </div>
          <div class="field">
            <label for={`${name}-to-${k}`}>{text.to}</label>
            <input
              id={`${name}-to-${k}`}
              type="time"
              value={span.to === "24:00" ? "00:00" : span.to}
              onInput={(event) => put(k, { to: event.currentTarget.value })}
            />
          </div>
          <button
            type="button"
            class="button"
            aria-label={text.removeSpan(k + 1)}
            onClick={() => onChange(spans.filter((_, j) => j !== k))}
          >
            ×
          </button>
        </div>
      ))}
      <div>
        <button
          type="button"
          class="button"
          aria-label={`${text.addSpan}: ${title}`}
          onClick={() =>
            onChange([...spans, { days: [1, 2, 3, 4, 5], from: "07:00", to: "16:00" }])
          }
        >
          {text.addSpan}
        </button>
      </div>
    </fieldset>
  );
}

const everyDay = [1, 2, 3, 4, 5, 6, 7];

/** The days with one more or less; the last one cannot go, since no day at all means nothing. */
function daysWith(span: Span, day: number, on: boolean): Partial<Span> {
  const before = span.days ?? everyDay;
  const days = everyDay.filter((one) => (one === day ? on : before.includes(one)));
  return days.length === 0 ? {} : { days };
}
