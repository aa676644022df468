import { useEffect, useRef, useState } from "preact/hooks";
import { nowS } from "../api/store.ts";
import { setupWords } from "../language/setup-words.ts";
import { getJournal, identifyNode } from "./setup-api.ts";

const ASK_MS = 1000;
const PATIENCE_MS = 15_000;

type Asked =
  | { state: "idle" | "asking" | "yes" | "silent" | "failed" }
  | { state: "no"; why: string };

/** Lets the node's lamp blink, and says whether the node has answered. */
export function IdentifyButton({ id }: { id: string }) {
  const [asked, setAsked] = useState<Asked>({ state: "idle" });
  const over = useRef(false);
  useEffect(() => {
    over.current = false;
    setAsked({ state: "idle" });
    return () => {
      over.current = true;
    };
  }, [id]);
  const text = setupWords.node;

  async function ask(): Promise<void> {
    setAsked({ state: "asking" });
    const fromS = nowS.value - 60;
    const sent = await identifyNode(id);
    if (over.current) return;
    if (!sent.ok) return setAsked({ state: "failed" });
    const until = performance.now() + PATIENCE_MS;
    while (!over.current && performance.now() < until) {
      const answer = await getJournal(fromS);
      const reply = answer.ok
        ? answer.value.entries.find(
            (one) => one.kind === "node-reply" && one.detail.id === sent.value.id,
          )
        : undefined;
      if (over.current) return;
      if (reply) {
        const why = typeof reply.detail.why === "string" ? reply.detail.why : "";
        return setAsked(reply.detail.ok === true ? { state: "yes" } : { state: "no", why });
      }
      await new Promise((resolve) => setTimeout(resolve, ASK_MS));
    }
    if (!over.current) setAsked({ state: "silent" });
  }

  return (
    <div class="setup-identify">
      <button type="button" class="button" disabled={asked.state === "asking"} onClick={ask}>
        {text.identify}
      </button>
      <p role="status" data-field="identify">
        {asked.state === "asking" && text.asking}
        {asked.state === "yes" && text.identified}
        {asked.state === "no" && text.refused(asked.why)}
        {(asked.state === "silent" || asked.state === "failed") && text.noAnswer}
      </p>
    </div>
  );
}
