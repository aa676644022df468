/**
 * A short hash of a text, to tell contents apart; not for secrets. Two 32-bit FNV-1a runs from
 * different starts, as text: 64 bits, so that a million contents collide with a chance of 3e-8.
 */
export function contentHash(text: string): string {
  let low = 0x811c9dc5;
  let high = 0x2f0b4a27;
  for (let index = 0; index < text.length; index++) {
    const code = text.charCodeAt(index);
    low = Math.imul(low ^ code, 0x01000193);
    high = Math.imul(high ^ (code + index), 0x01000193);
  }
  return `${(low >>> 0).toString(36)}.${(high >>> 0).toString(36)}`;
}
