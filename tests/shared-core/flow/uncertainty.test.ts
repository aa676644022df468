import { describe, expect, test } from "vitest";
import { COVERAGE_95, propagate, sigmaOfLimit } from "../../../shared-core/flow/uncertainty.ts";

describe("first-order uncertainty (JCGM 100:2008)", () => {
  /** GUM 4.1.1, example: P = V² / (R0 (1 + alpha (t - t0))); coefficients of 5.1.3. */
  test("the GUM's power example: sensitivity coefficients by hand", () => {
    const inputs = {
      V: { value: 10, sigma: 0.02 },
      R0: { value: 50, sigma: 0.1 },
      alpha: { value: 4e-3, sigma: 1e-5 },
      t: { value: 45, sigma: 0.2 },
    };
    const result = propagate(
      ({ V, R0, alpha, t }) => V ** 2 / (R0 * (1 + alpha * (t - 20))),
      inputs,
    );
    const P = 100 / (50 * 1.1);
    expect(result.value).toBeCloseTo(P, 12);
    expect(result.contributions.V / ((2 * P) / 10) / 0.02).toBeCloseTo(1, 6);
    expect(result.contributions.R0 / (-P / 50) / 0.1).toBeCloseTo(1, 4);
    expect(result.contributions.alpha / ((-P * 25) / 1.1) / 1e-5).toBeCloseTo(1, 4);
    expect(result.contributions.t / ((-P * 4e-3) / 1.1) / 0.2).toBeCloseTo(1, 4);
    expect(result.sigma).toBeCloseTo(Math.hypot(...Object.values(result.contributions)), 12);
  });

  /** GUM 5.2.2, example: ten 1000-ohm resistors of one calibration add linearly: 1 ohm, not 0.32. */
  test("the GUM's ten resistors: full correlation adds linearly", () => {
    const names = Array.from({ length: 10 }, (_, k) => `R${k}`);
    const inputs = Object.fromEntries(names.map((name) => [name, { value: 1000, sigma: 0.1 }]));
    const pairs = names.flatMap((a, i) =>
      names.slice(i + 1).map((b): [string, string, number] => [a, b, 1]),
    );
    const sum = (values: Readonly<Record<string, number>>) =>
      names.reduce((total, name) => total + (values[name] ?? 0), 0);
    expect(propagate(sum, inputs, pairs).sigma).toBeCloseTo(1, 9);
    expect(propagate(sum, inputs).sigma).toBeCloseTo(0.1 * Math.sqrt(10), 9);
  });

  test("a limit becomes limit/sqrt(3) (GUM 4.3.7)", () => {
    expect(sigmaOfLimit(0.5)).toBeCloseTo(0.2887, 4);
  });
});

test("95 % of a normal distribution lie within 1.96 sigma (GUM, table G.1)", () => {
  expect(COVERAGE_95).toBe(1.96);
});
