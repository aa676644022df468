import { useEffect, useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { nowS, shop, timeZone } from "../api/store.ts";
import { fixed } from "../display/numbers.ts";
import { alarmsWords as text } from "../language/alarms-words.ts";
import { ProblemNote } from "../shell/problem-note.tsx";
import { SpanFields, type SpanText, spanOf, spanText } from "../shell/span-fields.tsx";
import { type AlarmJournal, getJournal } from "./alarms-api.ts";
import { JournalList } from "./journal-list.tsx";

const MOST = 500;
/** So many are shown at first: more would be ten screens of a phone. */
const FIRST = 20;
const DAY_S = 86_400;

/** What alarms and people did, from one moment to another. */
export function JournalCard() {
  const zone = timeZone.value;
  const ready = shop.value !== null;
  const [typed, setTyped] = useState<SpanText | null>(null);
  const [all, setAll] = useState(false);
  const [answer, setAnswer] = useState<Answer<AlarmJournal> | null>(null);
  const shown = typed ?? spanText(nowS.peek() - DAY_S, nowS.peek(), zone);
  const span = spanOf(shown, zone);
  useEffect(() => {
    // Until somebody has chosen, up to the present.
    if (!ready || !span) return;
    let stopped = false;
    const [from, to] = typed ? [span.from, span.to] : [nowS.peek() - DAY_S, nowS.peek() + 60];
    void getJournal(from, to, MOST).then((found) => {
      if (!stopped) setAnswer(found);
    });
    return () => {
      stopped = true;
    };
  }, [ready, typed?.from, typed?.to]);
  const entries = answer?.ok ? answer.value.entries : [];
  return (
    <section class="card" aria-labelledby="journal-title" data-field="journal">
      <h2 class="card-title" id="journal-title">
        {text.journal.title}
      </h2>
      <p class="card-small">{text.journal.intro}</p>
      <SpanFields value={shown} onChange={setTyped} />
      {!span && (
        <p class="problem" role="alert">
          {text.journal.badTime}
        </p>
      )}
      <ProblemNote answer={answer} />
      {answer?.ok && entries.length === 0 && <p class="quiet">{text.journal.empty}</p>}
      {entries.length === MOST && <p class="quiet">{text.journal.cut(fixed(MOST, 0))}</p>}
      <JournalList entries={all ? entries : entries.slice(0, FIRST)} linked />
      {!all && entries.length > FIRST && (
        <button type="button" class="button button-glove" onClick={() => setAll(true)}>
          {text.journal.showAll(fixed(entries.length, 0))}
        </button>
      )}
    </section>
  );
}
