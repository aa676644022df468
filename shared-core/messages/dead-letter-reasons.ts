/**
 * Why a message was refused: the closed list of reasons, with what to do about each.
 * docs/errors.md is held to this list by a test.
 */
export const deadLetterReasons = {
  "payload-too-large": "Split the pack: the gateway takes at most 8 KiB a message.",
  "not-json": "Send UTF-8 JSON; check quotes, commas and brackets at the place named.",
  "not-senml":
    "Send a SenML JSON pack (RFC 8428): an array of objects with n, u and one of v, vs, vb.",
  "senml-version": "Send SenML version 10 (bver 10, or none).",
  "empty-pack": "Send at least one record with a value.",
  "unknown-record": "Use the record names of the wire contract, such as line-pressure.",
  "wrong-unit": "Send the unit of the wire contract: Pa, Cel, kg or V.",
  "wrong-type": "Send numbers as v, truth values as vb, words as vs.",
  "impossible-value": "Check the sensor's scaling: the value lies outside what can be measured.",
  "impossible-time": "Set the node's clock, or send times relative to now.",
  "contradictory-pack": "Send boot, seq and uptime once a pack.",
  "base-name-contradicts-topic":
    "Publish on the topic of the node that the base name names, or correct the base name.",
  "topic-claimed":
    "Give each node a name of its own: another board speaks under this name at present.",
  "unknown-topic": "Publish on leeward/v1/<site>/<node>/samples, /status or /reply.",
  "bad-status": "Send a status as in the wire contract: state, boot, and the rest.",
  "bad-reply": "Send a reply as in the wire contract: id, ok, and why where it failed.",
  "bad-person":
    'Write {"received": <Unix seconds>, "person": {…}} with reading, swap, purge, job, leakTest or undo in it.',
  "demo-speed": "Restart the gateway with a demo speed of 1: real nodes live in real time.",
} as const;

export type DeadLetterReason = keyof typeof deadLetterReasons;

/** One refusal: its reason, where in the message it lies, and the full sentence. */
export interface MessageFault {
  reason: DeadLetterReason;
  /** Place in the message, such as `[3].v`; empty for the whole. */
  path: string;
  message: string;
  /** How far the node's clock runs ahead, s, where that is why. */
  aheadS?: number;
}

export type MessageResult<T> = { ok: true; value: T } | { ok: false; fault: MessageFault };

/** Builds a failed result. `what` names what is wrong; the remedy of the reason is appended. */
export function refuse(
  reason: DeadLetterReason,
  path: string,
  what: string,
): { ok: false; fault: MessageFault } {
  const where = path === "" ? "" : `${path}: `;
  return {
    ok: false,
    fault: { reason, path, message: `${where}${what}. ${deadLetterReasons[reason]}` },
  };
}
