/**
 * First-order uncertainty after the GUM (JCGM 100:2008, section 5; ISO 5168 for flow):
 * u²(y) = sum_i (df/dx_i u_i)² + 2 sum_i<j df/dx_i df/dx_j u_i u_j r_ij.
 */
export const uncertaintySource = "jcgm-100-2008";

/** A value with its standard uncertainty (1 sigma), both in the same unit. */
export type Uncertain = Readonly<{ value: number; sigma: number }>;

export type UncertainInputs<Name extends string> = Readonly<Record<Name, Uncertain>>;

/** A result, its standard uncertainty, and what each input adds to it. */
export type UncertainResult<Name extends string> = Readonly<{
  value: number;
  sigma: number;
  /** df/dx_i · u_i, signed, in the unit of the result. */
  contributions: Readonly<Record<Name, number>>;
}>;

/** Factor from a standard to a 95 % interval, two-sided (normal distribution). */
export const COVERAGE_95 = 1.96;

/** Standard uncertainty behind a limit within which any value is equally likely: limit/sqrt(3). */
export function sigmaOfLimit(limit: number): number {
  return limit / Math.sqrt(3);
}

/**
 * Carries standard uncertainties through a function by central differences of one sigma.
 *
 * @param compute function of the input values; must be defined one sigma either way
 * @param inputs values with their sigmas; independent of each other unless `correlations` says so
 * @param correlations correlation coefficients of pairs, each pair named once
 */
export function propagate<Name extends string>(
  compute: (values: Readonly<Record<Name, number>>) => number,
  inputs: UncertainInputs<Name>,
  correlations: readonly (readonly [Name, Name, number])[] = [],
): UncertainResult<Name> {
  const names = Object.keys(inputs) as Name[];
  const values = Object.fromEntries(names.map((name) => [name, inputs[name].value])) as Record<
    Name,
    number
  >;
  const contributions = Object.fromEntries(
    names.map((name) => {
      const { value, sigma } = inputs[name];
      if (sigma === 0) {
        return [name, 0];
      }
      const above = compute({ ...values, [name]: value + sigma });
      const below = compute({ ...values, [name]: value - sigma });
      return [name, (above - below) / 2];
    }),
  ) as Record<Name, number>;
  let variance = 0;
  for (const name of names) {
    variance += contributions[name] ** 2;
  }
  for (const [first, second, coefficient] of correlations) {
    variance += 2 * coefficient * contributions[first] * contributions[second];
  }
  return { value: compute(values), sigma: Math.sqrt(Math.max(0, variance)), contributions };
}
