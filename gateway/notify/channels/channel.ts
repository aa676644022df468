import type { OutboxRow, RowWay } from "../outbox.ts";

/** How an attempt went wrong, and what that means for the next one. */
export class DeliveryError extends Error {
  /** `permanent`: trying again is useless. `unknown`: it may have arrived all the same. */
  readonly outcome: "retry" | "permanent" | "unknown";

  constructor(outcome: DeliveryError["outcome"], message: string) {
    super(message);
    this.name = "DeliveryError";
    this.outcome = outcome;
  }
}

/** Somebody has it, and an attempt at the rest may go better later: each part goes on by itself. */
export class PartlyDelivered extends Error {
  readonly left: readonly { part: string; way: RowWay; error: DeliveryError }[];

  constructor(left: PartlyDelivered["left"]) {
    super(left.map(({ part, error }) => `${part}: ${error.message}`).join("; "));
    this.name = "PartlyDelivered";
    this.left = left;
  }
}

/** One kind of way. Rejects with `DeliveryError` or `PartlyDelivered`; any other error counts as `retry`. */
export interface Channel {
  /** `repeat`: an earlier attempt may have arrived; say so where a person sees it. */
  send(row: OutboxRow, repeat: boolean, timeoutMs: number): Promise<void>;
}

/** What a status of HTTP says of an attempt: 408, 425, 429 and 5xx may go better later. */
export function outcomeOfStatus(status: number): "delivered" | DeliveryError["outcome"] {
  if (status >= 200 && status < 300) return "delivered";
  if (status === 408 || status === 425 || status === 429 || status >= 500) return "retry";
  return "permanent";
}

/** An error of a connection: refused before anything was said, or broken off on the way. */
export function outcomeOfError(error: unknown): DeliveryError {
  const cause = (error as { cause?: unknown }).cause ?? error;
  const code = (cause as { code?: string }).code ?? "";
  const text = error instanceof Error ? error.message : String(error);
  const reason = code === "" ? text : `${text} (${code})`;
  const neverSent = ["ECONNREFUSED", "ENOTFOUND", "EAI_AGAIN", "EHOSTUNREACH", "ENETUNREACH"];
  return new DeliveryError(neverSent.includes(code) ? "retry" : "unknown", reason);
}
