import { useEffect, useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { afterAnswer, type KeptAnswer, nothingKept, withRecalled } from "../api/kept-answer.ts";
import { recallAnswer, rememberAnswer } from "../api/memory.ts";

const wallS = () => Date.now() / 1000;

/**
 * Asks again and again, keeps the last answer on this device, and shows it as old while none comes.
 *
 * @param page names what is asked for; nothing is asked while it is null
 * @param fits whether what was kept, perhaps by an older program, can be shown
 * @param again asks at once when it changes
 */
export function useKept<T>(options: {
  page: string | null;
  ask: () => Promise<Answer<T>>;
  fits: (value: unknown) => value is T;
  everyMs: number;
  again?: unknown;
}): KeptAnswer<T> & { take: (value: T) => void } {
  const { page, ask, fits, everyMs, again } = options;
  const [kept, setKept] = useState<KeptAnswer<T>>(nothingKept);
  const take = (value: T) => {
    if (page !== null) void rememberAnswer(page, value);
    setKept((before) => afterAnswer(before, { ok: true, value }, wallS()));
  };
  useEffect(() => {
    setKept(nothingKept);
  }, [page]);
  useEffect(() => {
    if (page === null) return;
    let stopped = false;
    let timer = 0;
    const turn = async () => {
      const answer = await ask();
      if (stopped) return;
      if (answer.ok) take(answer.value);
      else {
        const recalled = await recallAnswer(page);
        if (stopped) return;
        setKept((before) => withRecalled(afterAnswer(before, answer, wallS()), recalled, fits));
      }
      timer = window.setTimeout(turn, everyMs);
    };
    void turn();
    return () => {
      stopped = true;
      clearTimeout(timer);
    };
  }, [page, again]);
  return { ...kept, take };
}
