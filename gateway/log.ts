import { pino } from "pino";

/** Where the gateway says what it does: one JSON object a line on standard error. */
export type Logger = Pick<ReturnType<typeof pino>, "debug" | "info" | "warn" | "error">;

export function createLogger(level: string): Logger {
  return pino({ level, base: null }, pino.destination({ dest: 2, sync: true }));
}
