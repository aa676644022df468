/** A decimal number with a point, as people write it; NaN for all else (also 0x10, Infinity, ""). */
export function decimal(text: string): number {
  return /^\s*[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?\s*$/.test(text) ? Number(text) : Number.NaN;
}
