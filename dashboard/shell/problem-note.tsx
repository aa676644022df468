import type { Answer } from "../api/client.ts";
import { language } from "../language/live-words.ts";
import { words } from "../language/words.ts";
import { useCoreText } from "./core-text.ts";

/** Why a request was not taken, every fault with its place. */
export function ProblemNote({ answer }: { answer: Answer<unknown> | null }) {
  const tell = useCoreText(answer !== null && !answer.ok && language.value !== "en");
  if (!answer || answer.ok) return null;
  if (answer.offline) {
    return (
      <p class="problem" role="alert">
        {answer.asked ? words.actions.notFetched : words.actions.noGateway}
      </p>
    );
  }
  const { problem } = answer;
  return (
    <div class="problem" role="alert">
      <p>
        <strong>{words.actions.failed}</strong>{" "}
        {tell(problem?.detail ?? problem?.title ?? String(answer.status))}
      </p>
      {problem?.faults && (
        <ul>
          {problem.faults.map((fault) => (
            <li key={fault.path + fault.message}>
              <code>{fault.path}</code> {tell(fault.message)}
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}
