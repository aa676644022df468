import { splitAdvice } from "../display/advice.ts";
import type { Sentence } from "../display/sentence.ts";
import { words } from "../language/words.ts";
import { UrgencySign } from "../signs/urgency-sign.tsx";

/** What is wrong, in bold, and what to do; its urgency by shape, word, place and colour. */
export function SentenceBar(props: { sentence: Sentence; faded: boolean; linked: boolean }) {
  const { sentence, faded, linked } = props;
  const { urgency } = sentence;
  // The tile has room for a glance; the station's page has all of it.
  const advice = splitAdvice(sentence.advice);
  const kind = urgency ? `sentence-${urgency}` : "sentence-quiet";
  return (
    <div class={`sentence ${kind}${faded ? " sentence-faded" : ""}`}>
      {urgency && (
        <span class="sentence-urgency">
          <UrgencySign urgency={urgency} />
          <span class="sentence-word">{words.urgency[urgency]}</span>
        </span>
      )}
      <p class="sentence-text" data-field="sentence">
        {sentence.bold ? <strong>{sentence.title}</strong> : sentence.title} {advice.first}
        {advice.rest !== "" && " …"}
        {linked && sentence.setupHref && (
          <>
            {" "}
            <a class="sentence-link" href={sentence.setupHref}>
              {words.sentence.toSetup}
            </a>
          </>
        )}
        {sentence.more > 0 && (
          <span class="sentence-more"> + {words.sentence.more(sentence.more)}</span>
        )}
      </p>
    </div>
  );
}
