import { createHash, createHmac, randomInt, timingSafeEqual } from "node:crypto";
import { readSecret, secretFrom } from "@leeward/shared-core/messages/enrolment-code.ts";
import { secretSymbols, updateKeyLabel } from "@leeward/shared-core/messages/enrolment-names.ts";

/** A new secret, of a node or of the owner: 110 bits of chance and two check symbols. */
export function createSecret(): string {
  return secretFrom(Array.from({ length: secretSymbols - 2 }, () => randomInt(32)));
}

/** What the store keeps of a secret: SHA-256, hexadecimal. */
export function hashSecret(secret: string): string {
  return createHash("sha256").update(secret).digest("hex");
}

/** Key with which a node's updates are signed; the node makes the same from its secret. Hexadecimal. */
export function updateKeyOf(secret: string): string {
  return createHmac("sha256", secret).update(updateKeyLabel).digest("hex");
}

/** HMAC-SHA-256 of a bundle for the `update` command, hexadecimal. */
export function signUpdate(updateKey: string, bundle: Uint8Array): string {
  return createHmac("sha256", updateKey).update(bundle).digest("hex");
}

/** True where `typed` is the secret behind the hash, however it is spaced and cased. */
export function isSecret(typed: string, hash: string): boolean {
  const secret = readSecret(typed);
  if (secret === null) return false;
  return timingSafeEqual(Buffer.from(hashSecret(secret)), Buffer.from(hash));
}
