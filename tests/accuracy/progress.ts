const everyMs = 30_000;

/** Says on stderr every half minute how many runs of `total` are done; returns what stops it. */
export function tellProgress(total: number, done: () => number): () => void {
  const startedMs = performance.now();
  const say = (): void => {
    const minutes = ((performance.now() - startedMs) / 60_000).toFixed(1);
    process.stderr.write(`${done()} of ${total} runs done after ${minutes} min\n`);
  };
  const timer = setInterval(say, everyMs);
  return () => {
    clearInterval(timer);
    say();
  };
}
