import { createHash } from "node:crypto";
import type { PackKey } from "../store/store.ts";
import type { NodeMessage } from "./read-message.ts";

/** Identity and content of a pack; null where a repeat cannot be told from a new pack. */
export type HashedKey = PackKey & { hash: string };

/**
 * Hardware address where known, else node; boot; seq. A pack without numbers is known by its
 * content, as long as that has times of its own.
 */
export function keyOf(message: NodeMessage): HashedKey | null {
  if (message.kind !== "samples") return null;
  const { pack, site, node } = message;
  const hash = createHash("sha256").update(JSON.stringify(pack)).digest("base64url");
  const owner = pack.hardware ?? `${site}/${node}`;
  if (pack.boot !== null && pack.seq !== null) {
    return { owner, boot: pack.boot, seq: pack.seq, hash };
  }
  const placed = pack.samples.length > 0 && !pack.samples.some((sample) => sample.relative);
  return placed ? { owner, boot: -1, seq: hashNumber(hash), hash } : null;
}

/** A whole number from a hash, to stand where a pack has no number of its own. */
function hashNumber(hash: string): number {
  return Number.parseInt(createHash("sha256").update(hash).digest("hex").slice(0, 12), 16);
}
