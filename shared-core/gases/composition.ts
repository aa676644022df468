import { PhysicsError, type Result, toResult } from "../errors.ts";

/** The gases that shielding gases are mixed from, in the order that all tables use. */
export const gasSymbols = ["Ar", "CO2", "He", "N2", "O2", "H2"] as const;

export type GasSymbol = (typeof gasSymbols)[number];

/** Mole fractions; they add up to 1. A gas that is left out has the fraction 0. */
export type Composition = Readonly<Partial<Record<GasSymbol, number>>>;

/** Fractions may miss the sum 1 by this much (rounding of printed fractions); they are scaled. */
const SUM_TOLERANCE = 1e-6;

/**
 * Checks a composition and scales it to the sum 1.
 *
 * @param composition mole fractions, each in [0, 1], sum 1 within 1e-6
 * @returns fractions without zeros, in the order of `gasSymbols`
 * @throws PhysicsError `GAS_UNKNOWN`, `GAS_FRACTION_RANGE` or `GAS_FRACTION_SUM`
 */
export function validComposition(composition: Composition): Composition {
  for (const symbol of Object.keys(composition)) {
    if (!isGasSymbol(symbol)) {
      throw new PhysicsError(
        "GAS_UNKNOWN",
        "composition",
        symbol,
        `known gases are ${gasSymbols.join(", ")}.`,
      );
    }
  }
  let sum = 0;
  for (const symbol of gasSymbols) {
    const fraction = composition[symbol] ?? 0;
    if (!(fraction >= 0 && fraction <= 1 + SUM_TOLERANCE)) {
      throw new PhysicsError(
        "GAS_FRACTION_RANGE",
        `composition.${symbol}`,
        fraction,
        "a mole fraction must lie between 0 and 1 (0.18 for 18 %).",
      );
    }
    sum += fraction;
  }
  if (!(Math.abs(sum - 1) <= SUM_TOLERANCE)) {
    throw new PhysicsError(
      "GAS_FRACTION_SUM",
      "sum of mole fractions",
      sum,
      `it must be 1 within ${SUM_TOLERANCE}; name the balance gas too (Ar=0.75,CO2=0.25).`,
    );
  }
  const valid: Partial<Record<GasSymbol, number>> = {};
  for (const symbol of gasSymbols) {
    const fraction = composition[symbol] ?? 0;
    if (fraction > 0) {
      valid[symbol] = fraction / sum;
    }
  }
  return valid;
}

/** As `validComposition`, as a result instead of a throw. */
export function checkComposition(composition: Composition): Result<Composition> {
  return toResult(() => validComposition(composition));
}

/** True if `text` is one of the known gas symbols. */
export function isGasSymbol(text: string): text is GasSymbol {
  return (gasSymbols as readonly string[]).includes(text);
}

/** True if the (valid) composition is one gas alone. */
export function isPure(composition: Composition, symbol: GasSymbol): boolean {
  return composition[symbol] === 1;
}

/** True if two valid compositions are the same gas, fraction by fraction within 1e-9. */
export function isSameGas(first: Composition, second: Composition): boolean {
  return gasSymbols.every(
    (symbol) => Math.abs((first[symbol] ?? 0) - (second[symbol] ?? 0)) <= 1e-9,
  );
}
