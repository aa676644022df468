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
const ROUNDS = 4;
const ITERATIONS = 8;
/** A solution's predicted further gain must be below this part of chi-squared plus one. */
const STATIONARY = 1e-12;

/**
 * Minimises a sum of squares with Levenberg-Marquardt and proves the answer: the gradient must
 * vanish there, else another damping is tried, and where none helps the answer is a failure.
 *
 * @param start parameters in units in which a change of 1 is a typical change
 */
export function leastSquares(
  residuals: ResidualFunction,
  start: readonly number[],
): LeastSquaresAnswer {
  let best = [...start];
  let bestSum = sumOfSquares(residuals(best));
  if (!Number.isFinite(bestSum)) {
    return { ok: false, why: "the model has no value at the starting point" };
  }
  for (let round = 0; round < ROUNDS; round++) {
    const scales = scalesAt(residuals, best);
    const scaled: ResidualFunction = (z) => residuals(z.map((value, k) => value * scales[k]!));
    for (const damping of DAMPINGS) {
      const from = best.map((value, k) => value / scales[k]!);
      const found = libraryFit(scaled, from, damping);
      const sum = found === null ? Number.POSITIVE_INFINITY : sumOfSquares(scaled(found));
      if (found !== null && sum <= bestSum) {
        best = found.map((value, k) => value * scales[k]!);
        bestSum = sum;
      }
      const proof = stationaryCovariance(
        scaled,
        best.map((value, k) => value / scales[k]!),
        bestSum,
      );
      if (proof !== null) {
        const covariance = proof.map((row, i) => row.map((v, j) => v * scales[i]! * scales[j]!));
        return { ok: true, value: { parameters: best, chiSquared: bestSum, covariance } };
      }
    }
  }
  return { ok: false, why: "the least-squares search found no minimum" };
}

function libraryFit(
  residuals: ResidualFunction,
  start: readonly number[],
  damping: number,
): number[] | null {
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
        initialValues: [...start],
        damping,
        maxIterations: ITERATIONS,
        errorTolerance: 1e-14,
        jacobianFunction: (parameters) => {
          const columns = jacobianColumns(residuals, parameters);
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

/** Covariance where the gradient vanishes; null where it does not or cannot be told. */
function stationaryCovariance(
  residuals: ResidualFunction,
  at: readonly number[],
  sum: number,
): number[][] | null {
  const values = residuals(at);
  const columns = jacobianColumns(residuals, at);
  if (!columns.every((column) => column.every(Number.isFinite))) return null;
  const size = at.length;
  const normal = Matrix.zeros(size, size);
  const gradient = Matrix.zeros(size, 1);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) normal.set(i, j, dot(columns[i]!, columns[j]!));
    gradient.set(i, 0, dot(columns[i]!, values));
  }
  const cholesky = new CholeskyDecomposition(normal);
  if (!cholesky.isPositiveDefinite()) return null;
  const gain = dot(gradient.to1DArray(), cholesky.solve(gradient).to1DArray());
  if (!(gain <= STATIONARY * (1 + sum))) return null;
  const inverse = cholesky.solve(Matrix.eye(size)).to2DArray();
  return inverse.every((row) => row.every(Number.isFinite)) ? inverse : null;
}

/** Steps that change the residuals by about one, so that the library's plain damping fits. */
function scalesAt(residuals: ResidualFunction, at: readonly number[]): number[] {
  const step = (value: number) => 1e-5 * Math.max(Math.abs(value), 1e-2);
  return jacobianColumns(residuals, at, step).map((column) => {
    const length = Math.sqrt(dot(column, column));
    return length > 0 && Number.isFinite(length) ? 1 / length : 1;
  });
}

/** Central differences; in scaled parameters a step of 1e-3 moves the residuals by about 1e-3. */
function jacobianColumns(
  residuals: ResidualFunction,
  at: readonly number[],
  stepOf: (value: number) => number = () => 1e-3,
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
