/**
 * Tests that take hours of simulated shop life, tagged `hours`: `npm test` sees each behaviour once,
 * `npm run hours` all of it.
 */
export const allHours = process.env.HOURS === "all";

/** The first seed alone in `npm test`, all of them in `npm run hours`. */
export function seeds(...all: readonly [number, ...number[]]): number[] {
  return allHours ? [...all] : [all[0]];
}

/** The first `few` cases in `npm test`, all of them in `npm run hours`. */
export function cases<T>(few: number, all: readonly T[]): T[] {
  return allHours ? [...all] : all.slice(0, few);
}
