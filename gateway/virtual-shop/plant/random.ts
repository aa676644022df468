/** Seeded random numbers: the same seed gives the same shop, on every machine. */
export interface Random {
  /** Uniform in [0, 1). */
  next(): number;
  /** Uniform in [low, high). */
  between(low: number, high: number): number;
  /** Normal with mean 0 and standard deviation 1. */
  normal(): number;
  /** A whole number in [low, high]. */
  whole(low: number, high: number): number;
}

/**
 * Generator of 32-bit state (mulberry32, public domain). `stream` separates independent uses of one
 * seed, so that more noise in one sensor does not change another.
 */
export function createRandom(seed: number, stream = 0): Random {
  const state = new Int32Array(1);
  state[0] = Math.imul(seed ^ 0x9e3779b9, 0x85ebca6b) ^ Math.imul(stream + 1, 0xc2b2ae35);
  const next = (): number => {
    const s = ((state[0] as number) + 0x6d2b79f5) | 0;
    state[0] = s;
    let x = Math.imul(s ^ (s >>> 15), 1 | s);
    x = (x + Math.imul(x ^ (x >>> 7), 61 | x)) ^ x;
    return ((x ^ (x >>> 14)) >>> 0) / 4294967296;
  };
  const normal = (): number =>
    Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
  return {
    next,
    between: (low, high) => low + (high - low) * next(),
    normal,
    whole: (low, high) => low + Math.floor((high - low + 1) * next()),
  };
}

/** Uniform in [-1, 1] for a whole number: the same each time, without state. */
export function hashUnit(seed: number, index: number): number {
  let x = Math.imul(seed | 0, 0x85ebca6b) ^ Math.imul(index | 0, 0x27d4eb2f);
  x = Math.imul(x ^ (x >>> 15), 0x2c1b3c6d);
  x = Math.imul(x ^ (x >>> 12), 0x297a2d39);
  return ((x ^ (x >>> 15)) >>> 0) / 2147483648 - 1;
}

/** Smooth noise in [-1, 1] over time, with knots every `periodS`. */
export function smoothNoise(seed: number, tS: number, periodS: number): number {
  const x = tS / periodS;
  const i = Math.floor(x);
  const f = x - i;
  const w = f * f * (3 - 2 * f);
  return hashUnit(seed, i) * (1 - w) + hashUnit(seed, i + 1) * w;
}
