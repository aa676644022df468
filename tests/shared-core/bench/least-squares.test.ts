import { chiSquaredSurvival } from "@leeward/shared-core/bench/chi-squared.ts";
import { leastSquares } from "@leeward/shared-core/bench/least-squares.ts";
import { describe, expect, it } from "vitest";

/**
 * NIST Statistical Reference Datasets, nonlinear regression; certified values and data from memory.
 * The certified residual sum of squares, reproduced to eight digits, shows that the data are right.
 */
const reference = [
  {
    name: "Misra1a, lower difficulty, 2 parameters",
    model: (b: readonly number[], x: number) => b[0]! * (1 - Math.exp(-b[1]! * x)),
    x: [
      77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1,
      760.0,
    ],
    y: [
      10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47,
      81.78,
    ],
    starts: [
      [500, 0.0001],
      [250, 0.0005],
    ],
    certified: [2.3894212918e2, 5.5015643181e-4],
    deviations: [2.7070075241, 7.2668688436e-6],
    sum: 1.2455138894e-1,
  },
  {
    name: "DanWood, lower difficulty, 2 parameters",
    model: (b: readonly number[], x: number) => b[0]! * x ** b[1]!,
    x: [1.309, 1.471, 1.49, 1.565, 1.611, 1.68],
    y: [2.138, 3.421, 3.597, 4.34, 4.882, 5.66],
    starts: [
      [1, 5],
      [0.7, 4],
    ],
    certified: [7.6886226176e-1, 3.8604055871],
    deviations: [1.828197386e-2, 5.1726610913e-2],
    sum: 4.3173084083e-3,
  },
  {
    name: "Rat43, higher difficulty, 4 parameters",
    model: (b: readonly number[], x: number) =>
      b[0]! / (1 + Math.exp(b[1]! - b[2]! * x)) ** (1 / b[3]!),
    x: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15],
    y: [
      16.08, 33.83, 65.8, 97.2, 191.55, 326.2, 386.87, 520.53, 590.03, 651.92, 724.93, 699.56,
      689.96, 637.56, 717.41,
    ],
    starts: [
      [100, 10, 1, 1],
      [700, 5, 0.75, 1.3],
    ],
    certified: [6.996415127e2, 5.2771253025, 7.5962938329e-1, 1.2792483859],
    deviations: [1.6302297817e1, 2.0828735829, 1.9566123451e-1, 6.8761936385e-1],
    sum: 8.786404908e3,
  },
];

describe("least squares against certified fits", () => {
  for (const problem of reference) {
    problem.starts.forEach((start, k) => {
      it(`${problem.name}, start ${k + 1}`, () => {
        const answer = leastSquares(
          (b) => problem.x.map((x, i) => problem.y[i]! - problem.model(b, x)),
          start,
        );
        // Rat43 from its far start may stay unsolved, but must not return a wrong answer.
        if (!answer.ok && start.length === 4 && k === 0) return;
        expect(answer.ok).toBe(true);
        if (!answer.ok) return;
        const { parameters, chiSquared, covariance } = answer.value;
        expect(Math.abs(chiSquared / problem.sum - 1)).toBeLessThan(1e-8);
        const variance = chiSquared / (problem.x.length - start.length);
        problem.certified.forEach((certified, i) => {
          expect(Math.abs(parameters[i]! / certified - 1)).toBeLessThan(1e-5);
          const deviation = Math.sqrt(variance * covariance[i]![i]!);
          expect(Math.abs(deviation / problem.deviations[i]! - 1)).toBeLessThan(1e-4);
        });
      });
    });
  }

  it("a straight line has its exact answer", () => {
    // y = 2 x + 1 with residuals +1, -1, -1, +1: normal equations by hand give slope 2, offset 1.
    const x = [0, 1, 2, 3];
    const y = [2, 2, 4, 8];
    const answer = leastSquares((b) => x.map((xi, i) => y[i]! - b[0]! - b[1]! * xi), [0, 0]);
    expect(answer.ok && answer.value.parameters[0]).toBeCloseTo(1, 8);
    expect(answer.ok && answer.value.parameters[1]).toBeCloseTo(2, 8);
    expect(answer.ok && answer.value.chiSquared).toBeCloseTo(4, 9);
    // (XᵀX)⁻¹ of x = 0..3: [[0.7, -0.3], [-0.3, 0.2]].
    expect(answer.ok && answer.value.covariance[0]![0]).toBeCloseTo(0.7, 7);
    expect(answer.ok && answer.value.covariance[0]![1]).toBeCloseTo(-0.3, 7);
    expect(answer.ok && answer.value.covariance[1]![1]).toBeCloseTo(0.2, 7);
  });

  it("parameters that the data cannot tell apart are a failure, not an answer", () => {
    const x = [1, 2, 3];
    const answer = leastSquares((b) => x.map((xi) => xi - (b[0]! + b[1]!) * xi), [0, 0]);
    expect(answer.ok).toBe(false);
  });

  it("a model without a value at the start is a failure", () => {
    expect(leastSquares(() => [Number.NaN, 1], [1]).ok).toBe(false);
  });
});

describe("chi-squared tail", () => {
  // Tables of the chi-squared distribution (Abramowitz & Stegun 26.8), from memory.
  it.each([
    [1, 3.841459, 0.05],
    [1, 6.634897, 0.01],
    [2, 9.21034, 0.01],
    [5, 15.08627, 0.01],
    [10, 18.30704, 0.05],
    [10, 3.940299, 0.95],
    [30, 50.89218, 0.01],
  ])("%d degrees, %d", (degrees, value, probability) => {
    expect(chiSquaredSurvival(value, degrees)).toBeCloseTo(probability, 6);
  });
});
