/**
 * The gateway's only source of time. Everything that asks "what time is it" or "wake me in 10 s"
 * takes a Clock, so that a demo can run faster than the wall and tests can run without waiting.
 */
export interface Clock {
  /** Unix seconds. */
  nowS(): number;
  /** Clock seconds per wall second: 1 but for demos. */
  readonly speed: number;
  /** Calls `task` once after `delayS` clock seconds; returns what cancels it. */
  after(delayS: number, task: () => void): () => void;
  /** Calls `task` every `intervalS` clock seconds until cancelled. */
  every(intervalS: number, task: () => void): () => void;
}

/** A clock that follows the wall clock, at `speed` times its pace from `startS` (default: now). */
export function createWallClock(options: { speed?: number; startS?: number } = {}): Clock {
  const speed = options.speed ?? 1;
  const wallStart = Date.now() / 1000;
  const start = options.startS ?? wallStart;
  const toWallMs = (seconds: number) => Math.max(0, (seconds * 1000) / speed);
  return {
    speed,
    nowS: () => start + (Date.now() / 1000 - wallStart) * speed,
    after(delayS, task) {
      const timer = setTimeout(task, toWallMs(delayS));
      return () => clearTimeout(timer);
    },
    every(intervalS, task) {
      const timer = setInterval(task, toWallMs(intervalS));
      return () => clearInterval(timer);
    },
  };
}
