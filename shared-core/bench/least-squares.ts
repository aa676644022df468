import { levenbergMarquardt } from "ml-levenberg-marquardt";
import { CholeskyDecomposition, Matrix } from "ml-matrix";

/** Residual vector of a parameter vector; each residual over its own sigma. */
export type ResidualFunction = (parameters: readonly number[]) => number[];

export interface LeastSquaresSolution {
  parameters: number[];
  /** Sum of squared residuals at the solution. */
  chiSquared: number;
  /** (JᵀJ)⁻¹: covariance of the parameters where the residuals have unit variance. */
  covariance: number[][];
}

export type LeastSquaresAnswer =
  | { ok: true; value: LeastSquaresSolution }
  | { ok: false; why: string };

/**
 * Damping of the library, tried in turn: at its own default (0.01) it returns wrong answers in
 * silence, because it keeps steps that made the sum of squares worse.
 */
const DAMPINGS = [1.5, 10, 100] as const;
const ROUNDS = 30;
const ITERATIONS = 8;
/**
 * What a further step would gain, over chi-squared plus one: below `exact` a solution stands at
 * once; below `near` (1e-3 of a sigma) where curved valleys or the noise of slopes let it get no better.
 */
const STATIONARY = { exact: 1e-12, near: 1e-6 } as const;
/** Step of the central differences in whitened parameters, where 1 is about one sigma. */
const STEP = 3e-4;

/**
 * Minimises a sum of squares with Levenberg-Marquardt and proves the answer: the gradient must
 * vanish there, else another damping is tried, and where none helps the answer is a failure.
 *
 * The library damps all parameters alike, so it is given whitened ones: each round turns them so
 * that its normal matrix is the unit matrix at the best point so far.
 *
 * @param start where to begin; each parameter in any unit
 * @param rounds after how many the search gives up
 */
export function leastSquares(
  residuals: ResidualFunction,
  start: readonly number[],
  rounds = ROUNDS,
): LeastSquaresAnswer {
  let center = [...start];
  let sum = sumOfSquares(residuals(center));
  if (!Number.isFinite(sum)) {
    return { ok: false, why: "the model has no value at the starting point" };
  }
  let axes = Matrix.diag(scalesAt(residuals, center));
  let near: LeastSquaresSolution | null = null;
  for (let round = 0; round < rounds; round++) {
    const slope = slopeAt(inAxes(residuals, center, axes), center.length);
    if (slope === null) break;
    if (slope.gain <= STATIONARY.near * (1 + sum)) {
      const covariance = axes.mmul(slope.inverse).mmul(axes.transpose()).to2DArray();
      near = { parameters: center, chiSquared: sum, covariance };
      if (slope.gain <= STATIONARY.exact * (1 + sum)) break;
    }
    axes = axes.mmul(slope.whitening);
    const local = inAxes(residuals, center, axes);
    const better = improve(local, center.length, sum);
    if (better === null) break;
    center = moved(center, axes, better.step);
    sum = better.sum;
    if (near !== null && better.gained <= STATIONARY.exact * (1 + sum)) break;
  }
  return near === null
    ? { ok: false, why: "the least-squares search found no minimum" }
    : { ok: true, value: near };
}

/** The library's step from zero that makes the sum smallest; null where no damping helps. */
function improve(
  residuals: ResidualFunction,
  size: number,
  sum: number,
): { step: number[]; sum: number; gained: number } | null {
  for (const damping of DAMPINGS) {
    const step = libraryFit(residuals, size, damping);
    const reached = step === null ? Number.POSITIVE_INFINITY : sumOfSquares(residuals(step));
    if (step !== null && reached < sum) return { step, sum: reached, gained: sum - reached };
  }
  return null;
}

function libraryFit(residuals: ResidualFunction, size: number, damping: number): number[] | null {
  const start = new Array<number>(size).fill(0);
  const count = residuals(start).length;
  const x = Array.from({ length: count }, (_, index) => index);
  const y = new Array<number>(count).fill(0);
  try {
    const { parameterValues } = levenbergMarquardt(
      { x, y },
      (parameters) => {
        const values = residuals(parameters);
        return (index) => values[index]!;
      },
      {
        initialValues: start,
        damping,
        maxIterations: ITERATIONS,
        errorTolerance: 1e-14,
        jacobianFunction: (parameters) => {
          const columns = jacobianColumns(residuals, parameters, () => STEP);
          return (index) => columns.map((column) => column[index]!);
        },
      },
    );
    return parameterValues.every(Number.isFinite) ? parameterValues : null;
  } catch {
    // The library throws where its normal matrix is singular; the next damping is tried.
    return null;
  }
}

interface Slope {
  /** Drop of the sum of squares that a full step promises. */
  gain: number;
  /** (JᵀJ)⁻¹ */
  inverse: Matrix;
  /** Axes in which JᵀJ is the unit matrix. */
  whitening: Matrix;
}

/** Slopes at zero; null where the parameters cannot be told apart or the model has no value. */
function slopeAt(residuals: ResidualFunction, size: number): Slope | null {
  const zero = new Array<number>(size).fill(0);
  const values = residuals(zero);
  const columns = jacobianColumns(residuals, zero, () => STEP);
  if (!columns.every((column) => column.every(Number.isFinite))) return null;
  const normal = Matrix.zeros(size, size);
  const gradient = Matrix.zeros(size, 1);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) normal.set(i, j, dot(columns[i]!, columns[j]!));
    gradient.set(i, 0, dot(columns[i]!, values));
  }
  const cholesky = new CholeskyDecomposition(normal);
  if (!cholesky.isPositiveDefinite()) return null;
  const inverse = cholesky.solve(Matrix.eye(size));
  // JᵀJ = L Lᵀ, so the columns of L⁻ᵀ = (JᵀJ)⁻¹ L are the axes.
  const whitening = inverse.mmul(cholesky.lowerTriangularMatrix);
  const gain = dot(gradient.to1DArray(), inverse.mmul(gradient).to1DArray());
  const sound = inverse.to1DArray().every(Number.isFinite) && gain >= 0;
  return sound ? { gain, inverse, whitening } : null;
}

function inAxes(
  residuals: ResidualFunction,
  center: readonly number[],
  axes: Matrix,
): ResidualFunction {
  return (z) => residuals(moved(center, axes, z));
}

function moved(center: readonly number[], axes: Matrix, z: readonly number[]): number[] {
  return center.map((value, i) => z.reduce((sum, zj, j) => sum + axes.get(i, j) * zj, value));
}

/** Steps that change the residuals by about one. */
function scalesAt(residuals: ResidualFunction, at: readonly number[]): number[] {
  const step = (value: number) => 1e-5 * Math.max(Math.abs(value), 1e-2);
  return jacobianColumns(residuals, at, step).map((column) => {
    const length = Math.sqrt(dot(column, column));
    return length > 0 && Number.isFinite(length) ? 1 / length : 1;
  });
}

/** Central differences. */
function jacobianColumns(
  residuals: ResidualFunction,
  at: readonly number[],
  stepOf: (value: number) => number,
): number[][] {
  return at.map((value, k) => {
    const step = stepOf(value);
    const above = residuals(at.map((v, index) => (index === k ? v + step : v)));
    const below = residuals(at.map((v, index) => (index === k ? v - step : v)));
    return above.map((v, index) => (v - below[index]!) / (2 * step));
  });
}

function sumOfSquares(values: readonly number[]): number {
  const sum = dot(values, values);
  return Number.isNaN(sum) ? Number.POSITIVE_INFINITY : sum;
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, value, index) => sum + value * b[index]!, 0);
}
