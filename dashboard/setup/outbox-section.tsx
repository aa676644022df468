import { useEffect, useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { nowS, timeZone } from "../api/store.ts";
import { dayAndTime } from "../display/durations.ts";
import { setupWords } from "../language/setup-words.ts";
import { ProblemNote } from "../shell/problem-note.tsx";
import { getOutbox, type OutboxMessage } from "./setup-api.ts";

/** Messages that are listed. */
const MOST = 20;

/** What was sent to whom, and how far it got: the newest first. */
export function OutboxSection() {
  const text = setupWords.outbox;
  const [answer, setAnswer] = useState<Answer<{ messages: OutboxMessage[] }> | null>(null);
  const load = () => void getOutbox(MOST).then(setAnswer);
  useEffect(load, []);
  const messages = answer?.ok ? answer.value.messages : [];
  const names: Readonly<Record<string, string>> = setupWords.shopPage.ways;
  const moment = (time: string) => dayAndTime(Date.parse(time) / 1000, nowS.peek(), timeZone.value);
  return (
    <section class="setup-card" aria-labelledby="outbox-title" data-field="outbox">
      <h2 id="outbox-title">{text.title}</h2>
      <p class="quiet">{text.intro}</p>
      <ProblemNote answer={answer} />
      {answer?.ok && messages.length === 0 && <p class="quiet">{text.none}</p>}
      <ul class="setup-list">
        {messages.map((one) => (
          <li key={one.id} class="setup-row" data-state={one.state}>
            <div>
              <h3>{one.line}</h3>
              <p class="quiet">
                {text.to(one.contact, names[one.way] ?? one.way, moment(one.created))}
              </p>
              {one.lastError && one.state !== "delivered" && <p>{one.lastError}</p>}
            </div>
            <p>
              {setupWords.shopPage.testStates[one.state]}
              {one.state === "waiting" && ` ${text.due(moment(one.due))}`}
              {one.attempts > 1 && ` ${text.attempts(one.attempts)}`}
            </p>
          </li>
        ))}
      </ul>
      <div>
        <button type="button" class="button" onClick={load}>
          {text.again}
        </button>
      </div>
    </section>
  );
}
