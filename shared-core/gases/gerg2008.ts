import { binaryPairs, type DepartureTerm } from "./binary-pairs.ts";
import type { Composition, GasSymbol } from "./composition.ts";
import { gasData } from "./gas-data.ts";
import { PowersOfTau } from "./powers-of-tau.ts";

/** Molar gas constant of the equation, J/(mol K) (CODATA 2006, as in ISO 20765-2). */
export const GAS_CONSTANT = 8.314472;

/** Source of the equation, its gas constant and its ranges. */
export const equationSource = "kunz-wagner-2012";

/** Range of normal use of GERG-2008 and its extended range (Kunz & Wagner 2012, section 6). */
export const publishedRange = { lowK: 90, highK: 450, highPa: 35e6 } as const;
export const allowedRange = { lowK: 60, highK: 700, highPa: 70e6 } as const;

type Term = readonly [n: number, d: number, t: number, c: number];

/**
 * The residual Helmholtz energy of GERG-2008 (ISO 20765-2) for one composition.
 *
 *   alpha_r(delta, tau) = sum_i x_i alpha_r,i + sum_i<j x_i x_j F_ij alpha_r,ij
 *   delta = rho / rho_r(x),  tau = T_r(x) / T
 *
 * Terms of different gases with equal exponents are merged when the object is made. At a new
 * temperature the powers of tau fold into one coefficient for each power of delta; a density
 * step then costs a few short polynomials and exponentials. That is what makes the density solve
 * fast, and it allocates nothing.
 *
 * Use: `setTemperature`, then `evaluate` (density derivatives), then, only if wanted,
 * `evaluateThermal` at the same delta. Results stay in the fields until the next call.
 */
export class ResidualHelmholtz {
  readonly reducingDensityMolPerM3: number;
  readonly reducingTemperatureK: number;

  /** alpha_r */
  alpha = 0;
  /** delta alpha_delta */
  deltaFirst = 0;
  /** delta^2 alpha_delta,delta */
  deltaSecond = 0;
  /** tau alpha_tau */
  tauFirst = 0;
  /** tau^2 alpha_tau,tau */
  tauSecond = 0;
  /** delta tau alpha_delta,tau */
  deltaTau = 0;

  // Terms, sorted by class of exponential c and power d of delta.
  private readonly termN: Float64Array;
  private readonly termT: Float64Array;
  private readonly termPower: Int32Array;
  private readonly termBucket: Int32Array;
  private readonly powers: PowersOfTau;

  // Buckets: one for each (c, d); their coefficients at the present temperature.
  private readonly bucketD: Float64Array;
  private readonly bucketValue: Float64Array;
  private readonly bucketTau: Float64Array;
  private readonly bucketTauTau: Float64Array;
  // Classes: one for each c, a run of buckets.
  private readonly classC: Int32Array;
  private readonly classStart: Int32Array;
  private readonly classExponential: Float64Array;
  private readonly deltaPower: Float64Array;

  private readonly departure: DepartureTerms | null;

  private temperatureK = Number.NaN;
  private tau = Number.NaN;
  private thermalReady = false;

  /** @param composition valid mole fractions (see `validComposition`) */
  constructor(composition: Composition) {
    const reducing = reducingState(composition);
    this.reducingDensityMolPerM3 = reducing.densityMolPerM3;
    this.reducingTemperatureK = reducing.temperatureK;

    const terms = mergedTerms(composition);
    const exponents = [...new Set(terms.map(([, , t]) => t))].sort((a, b) => a - b);
    this.powers = new PowersOfTau(exponents);
    this.termN = Float64Array.from(terms, ([n]) => n);
    this.termT = Float64Array.from(terms, ([, , t]) => t);
    this.termPower = Int32Array.from(terms, ([, , t]) => exponents.indexOf(t));

    const buckets: { c: number; d: number }[] = [];
    const termBucket: number[] = [];
    for (const [, d, , c] of terms) {
      const last = buckets.at(-1);
      if (last?.c !== c || last.d !== d) {
        buckets.push({ c, d });
      }
      termBucket.push(buckets.length - 1);
    }
    this.termBucket = Int32Array.from(termBucket);
    this.bucketD = Float64Array.from(buckets, ({ d }) => d);
    this.bucketValue = new Float64Array(buckets.length);
    this.bucketTau = new Float64Array(buckets.length);
    this.bucketTauTau = new Float64Array(buckets.length);
    const classes = [...new Set(buckets.map(({ c }) => c))];
    this.classC = Int32Array.from(classes);
    this.classStart = Int32Array.from([
      ...classes.map((c) => buckets.findIndex((bucket) => bucket.c === c)),
      buckets.length,
    ]);
    this.classExponential = new Float64Array(classes.length);
    this.deltaPower = new Float64Array(1 + Math.max(...classes, ...buckets.map(({ d }) => d)));
    this.deltaPower[0] = 1;
    this.departure = departureTerms(composition);
  }

  /** Folds tau into the coefficients; free when the temperature has not changed. */
  setTemperature(temperatureK: number): void {
    if (temperatureK === this.temperatureK) {
      return;
    }
    this.temperatureK = temperatureK;
    this.tau = this.reducingTemperatureK / temperatureK;
    this.thermalReady = false;
    const { termN, termPower, termBucket, bucketValue } = this;
    const powers = this.powers.at(this.tau);
    bucketValue.fill(0);
    for (let k = 0; k < termN.length; k++) {
      bucketValue[termBucket[k]] += termN[k] * powers[termPower[k]];
    }
    this.departure?.setTau(this.tau);
  }

  /** alpha, deltaFirst and deltaSecond at delta and the temperature that was set. */
  evaluate(delta: number): void {
    const { deltaPower, bucketD, bucketValue, classC, classStart, classExponential } = this;
    for (let k = 1; k < deltaPower.length; k++) {
      deltaPower[k] = deltaPower[k - 1] * delta;
    }
    let alpha = 0;
    let first = 0;
    let second = 0;
    for (let k = 0; k < classC.length; k++) {
      // With s_m = sum a d^m delta^d and u = c delta^c, the derivatives of s_0 exp(-delta^c) are
      // delta d/ddelta = (s_1 - u s_0) e and
      // delta^2 d2/ddelta2 = (s_2 - s_1 - 2 u s_1 + (u^2 + u - c u) s_0) e.
      let s0 = 0;
      let s1 = 0;
      let s2 = 0;
      for (let b = classStart[k]; b < classStart[k + 1]; b++) {
        const d = bucketD[b];
        const value = bucketValue[b] * deltaPower[d];
        s0 += value;
        s1 += d * value;
        s2 += d * d * value;
      }
      const c = classC[k];
      if (c === 0) {
        classExponential[k] = 1;
        alpha += s0;
        first += s1;
        second += s2 - s1;
      } else {
        const power = deltaPower[c];
        const exponential = Math.exp(-power);
        classExponential[k] = exponential;
        const u = c * power;
        alpha += exponential * s0;
        first += exponential * (s1 - u * s0);
        second += exponential * (s2 - (1 + 2 * u) * s1 + u * (u + 1 - c) * s0);
      }
    }
    if (this.departure !== null) {
      this.departure.evaluate(delta);
      alpha += this.departure.alpha;
      first += this.departure.deltaFirst;
      second += this.departure.deltaSecond;
    }
    this.alpha = alpha;
    this.deltaFirst = first;
    this.deltaSecond = second;
  }

  /** tauFirst, tauSecond and deltaTau at the delta of the last `evaluate`. */
  evaluateThermal(): void {
    const { deltaPower, bucketD, bucketTau, bucketTauTau, classC, classStart } = this;
    const { classExponential } = this;
    if (!this.thermalReady) {
      this.foldThermal();
    }
    let tauFirst = 0;
    let tauSecond = 0;
    let deltaTau = 0;
    for (let k = 0; k < classC.length; k++) {
      let t0 = 0;
      let t1 = 0;
      let tt0 = 0;
      for (let b = classStart[k]; b < classStart[k + 1]; b++) {
        const d = bucketD[b];
        const power = deltaPower[d];
        const value = bucketTau[b] * power;
        t0 += value;
        t1 += d * value;
        tt0 += bucketTauTau[b] * power;
      }
      const c = classC[k];
      // For c = 0 the factor c makes the slope of the exponential vanish.
      const power = deltaPower[c];
      const exponential = classExponential[k];
      tauFirst += exponential * t0;
      tauSecond += exponential * tt0;
      deltaTau += exponential * (t1 - c * power * t0);
    }
    if (this.departure !== null) {
      tauFirst += this.departure.tauFirst;
      tauSecond += this.departure.tauSecond;
      deltaTau += this.departure.deltaTau;
    }
    this.tauFirst = tauFirst;
    this.tauSecond = tauSecond;
    this.deltaTau = deltaTau;
  }

  private foldThermal(): void {
    const { termN, termT, termPower, termBucket, bucketTau, bucketTauTau } = this;
    const powers = this.powers.values;
    bucketTau.fill(0);
    bucketTauTau.fill(0);
    for (let k = 0; k < termN.length; k++) {
      const t = termT[k];
      const value = t * termN[k] * powers[termPower[k]];
      bucketTau[termBucket[k]] += value;
      bucketTauTau[termBucket[k]] += (t - 1) * value;
    }
    this.thermalReady = true;
  }
}

/** The departure terms with a Gaussian-like exponential; the plain ones merge with the rest. */
class DepartureTerms {
  alpha = 0;
  deltaFirst = 0;
  deltaSecond = 0;
  tauFirst = 0;
  tauSecond = 0;
  deltaTau = 0;
  private readonly terms: readonly DepartureTerm[];
  private readonly atTau: Float64Array;

  /** @param terms departure terms whose n already holds the weight x_i x_j F_ij */
  constructor(terms: readonly DepartureTerm[]) {
    this.terms = terms;
    this.atTau = new Float64Array(terms.length);
  }

  setTau(tau: number): void {
    for (let k = 0; k < this.terms.length; k++) {
      const [n, , t] = this.terms[k];
      this.atTau[k] = n * tau ** t;
    }
  }

  evaluate(delta: number): void {
    this.alpha = 0;
    this.deltaFirst = 0;
    this.deltaSecond = 0;
    this.tauFirst = 0;
    this.tauSecond = 0;
    this.deltaTau = 0;
    for (let k = 0; k < this.terms.length; k++) {
      const [, d, t, eta, epsilon, beta, gamma] = this.terms[k];
      const off = delta - epsilon;
      const value =
        this.atTau[k] * delta ** d * Math.exp(-eta * off * off - beta * (delta - gamma));
      // g = delta d(ln value)/ddelta, and delta dg/ddelta = slope.
      const g = d - 2 * eta * delta * off - beta * delta;
      const slope = -delta * (2 * eta * (2 * delta - epsilon) + beta);
      this.alpha += value;
      this.deltaFirst += g * value;
      this.deltaSecond += (g * g - g + slope) * value;
      this.tauFirst += t * value;
      this.tauSecond += t * (t - 1) * value;
      this.deltaTau += t * g * value;
    }
  }
}

/** Terms of all gases weighted by their fractions; equal exponents merged; sorted by c, then d. */
function mergedTerms(composition: Composition): readonly Term[] {
  const merged = new Map<string, [number, number, number, number]>();
  const add = (n: number, d: number, t: number, c: number): void => {
    const key = `${c} ${d} ${t}`;
    const term = merged.get(key);
    if (term === undefined) {
      merged.set(key, [n, d, t, c]);
    } else {
      term[0] += n;
    }
  };
  for (const [symbol, fraction] of fractions(composition)) {
    for (const [n, d, t, c] of gasData[symbol].residualTerms) {
      add(fraction * n, d, t, c);
    }
  }
  for (const [n, d, t, eta, , beta] of weightedDeparture(composition)) {
    if (eta === 0 && beta === 0) {
      add(n, d, t, 0);
    }
  }
  return [...merged.values()].sort((a, b) => a[3] - b[3] || a[1] - b[1] || a[2] - b[2]);
}

function departureTerms(composition: Composition): DepartureTerms | null {
  const terms = weightedDeparture(composition).filter(
    ([, , , eta, , beta]) => eta !== 0 || beta !== 0,
  );
  return terms.length > 0 ? new DepartureTerms(terms) : null;
}

function weightedDeparture(composition: Composition): DepartureTerm[] {
  return binaryPairs.flatMap(({ first, second, departure }) => {
    const weight = (composition[first] ?? 0) * (composition[second] ?? 0);
    return weight > 0 && departure !== null
      ? departure.map(
          ([n, d, t, eta, epsilon, beta, gamma]): DepartureTerm => [
            weight * n,
            d,
            t,
            eta,
            epsilon,
            beta,
            gamma,
          ],
        )
      : [];
  });
}

/** Reducing density and temperature: Kunz & Wagner 2012, eqs. (16) and (17). */
function reducingState(composition: Composition): {
  densityMolPerM3: number;
  temperatureK: number;
} {
  const present = fractions(composition);
  let volume = 0;
  let temperatureK = 0;
  for (let i = 0; i < present.length; i++) {
    const [first, x] = present[i];
    const a = gasData[first];
    volume += (x * x) / a.criticalDensityMolPerM3;
    temperatureK += x * x * a.criticalTemperatureK;
    for (let j = i + 1; j < present.length; j++) {
      const [second, y] = present[j];
      const b = gasData[second];
      const { betaV, gammaV, betaT, gammaT } = pairParameters(first, second);
      const cubeRoots =
        Math.cbrt(1 / a.criticalDensityMolPerM3) + Math.cbrt(1 / b.criticalDensityMolPerM3);
      volume += 2 * x * y * betaV * gammaV * asymmetry(x, y, betaV) * (cubeRoots ** 3 / 8);
      temperatureK +=
        2 *
        x *
        y *
        betaT *
        gammaT *
        asymmetry(x, y, betaT) *
        Math.sqrt(a.criticalTemperatureK * b.criticalTemperatureK);
    }
  }
  return { densityMolPerM3: 1 / volume, temperatureK };
}

function asymmetry(x: number, y: number, beta: number): number {
  return (x + y) / (beta * beta * x + y);
}

function pairParameters(
  first: GasSymbol,
  second: GasSymbol,
): { betaV: number; gammaV: number; betaT: number; gammaT: number } {
  for (const pair of binaryPairs) {
    if (pair.first === first && pair.second === second) {
      return pair;
    }
    if (pair.first === second && pair.second === first) {
      // Swapping the gases inverts beta and keeps gamma.
      return { ...pair, betaV: 1 / pair.betaV, betaT: 1 / pair.betaT };
    }
  }
  return { betaV: 1, gammaV: 1, betaT: 1, gammaT: 1 };
}

function fractions(composition: Composition): [GasSymbol, number][] {
  return Object.entries(composition) as [GasSymbol, number][];
}
