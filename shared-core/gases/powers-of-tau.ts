/**
 * Powers of tau for a fixed set of exponents. All exponents of the pure gases are multiples of
 * 1/8, so three square roots and some products replace a costly general power for each.
 */
export class PowersOfTau {
  readonly values: Float64Array;
  private readonly eighth: Int32Array;
  private readonly whole: Int32Array;
  private readonly others: readonly number[];
  private readonly exponents: readonly number[];
  private readonly eighths = new Float64Array(8);
  private readonly wholes: Float64Array;

  /** @param exponents 0 or above */
  constructor(exponents: readonly number[]) {
    this.exponents = exponents;
    this.values = new Float64Array(exponents.length);
    this.eighth = Int32Array.from(exponents, (t) => Math.round((t % 1) * 8));
    this.whole = Int32Array.from(exponents, Math.floor);
    this.others = exponents.map((_, k) => k).filter((k) => !Number.isInteger(exponents[k] * 8));
    this.wholes = new Float64Array(1 + Math.max(...this.whole));
    this.wholes[0] = 1;
    this.eighths[0] = 1;
  }

  /** The powers at tau, in the order of the exponents; the same array at every call. */
  at(tau: number): Float64Array {
    const { values, eighth, whole, eighths, wholes, others, exponents } = this;
    const half = Math.sqrt(tau);
    const quarter = Math.sqrt(half);
    const one = Math.sqrt(quarter);
    eighths[1] = one;
    eighths[2] = quarter;
    eighths[3] = quarter * one;
    eighths[4] = half;
    eighths[5] = half * one;
    eighths[6] = half * quarter;
    eighths[7] = half * quarter * one;
    wholes[1] = tau;
    // Halving keeps the chain of roundings short: tau^30 takes six products, not thirty.
    for (let k = 2; k < wholes.length; k++) {
      wholes[k] = wholes[k >> 1] * wholes[k - (k >> 1)];
    }
    for (let k = 0; k < values.length; k++) {
      values[k] = eighths[eighth[k]] * wholes[whole[k]];
    }
    for (let k = 0; k < others.length; k++) {
      values[others[k]] = tau ** exponents[others[k]];
    }
    return values;
  }
}
