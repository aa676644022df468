/**
 * Probability that a chi-squared variable with `degrees` of freedom exceeds `value`.
 * Regularised upper incomplete gamma function Q(degrees/2, value/2), by series or continued
 * fraction (Abramowitz & Stegun 6.5.29 and 6.5.31), 1e-12.
 */
export function chiSquaredSurvival(value: number, degrees: number): number {
  if (!(value > 0)) return 1;
  const a = degrees / 2;
  const x = value / 2;
  const scale = Math.exp(a * Math.log(x) - x - logGamma(a));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; n < 1000 && term > sum * 1e-14; n++) {
      term *= x / (a + n);
      sum += term;
    }
    return Math.max(0, 1 - scale * sum);
  }
  // Continued fraction, modified Lentz.
  const tiny = 1e-300;
  let b = x + 1 - a;
  let c = 1 / tiny;
  let d = 1 / b;
  let fraction = d;
  for (let n = 1; n < 1000; n++) {
    const step = -n * (n - a);
    b += 2;
    d = 1 / nonZero(step * d + b, tiny);
    c = nonZero(b + step / c, tiny);
    fraction *= d * c;
    if (Math.abs(d * c - 1) < 1e-14) break;
  }
  return scale * fraction;
}

function nonZero(value: number, tiny: number): number {
  return Math.abs(value) < tiny ? tiny : value;
}

/** ln Gamma of half-integers and integers, the only arguments needed here: exact recurrence. */
function logGamma(a: number): number {
  let sum = Number.isInteger(a) ? 0 : Math.log(Math.PI) / 2;
  for (let z = Number.isInteger(a) ? 1 : 0.5; z < a - 1e-9; z++) sum += Math.log(z);
  return sum;
}
