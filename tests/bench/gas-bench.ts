import { cpus, loadavg } from "node:os";
import type { Composition } from "../../shared-core/gases/composition.ts";
import { createMixture } from "../../shared-core/gases/mixture.ts";

const SOLVES = 400_000;
const ROUNDS = 5;

type Case = Readonly<{ name: string; composition: Composition; aim: number | null }>;

const cases: readonly Case[] = [
  { name: "Ar", composition: { Ar: 1 }, aim: 1_000_000 },
  { name: "Ar 75 % CO2 25 %", composition: { Ar: 0.75, CO2: 0.25 }, aim: 600_000 },
  { name: "Ar 90 % CO2 8 % O2 2 %", composition: { Ar: 0.9, CO2: 0.08, O2: 0.02 }, aim: null },
];

/**
 * Density solves a second on one core: pressure and temperature change from solve to solve, each
 * starts from the last density, each result is checked afterwards to 1e-10.
 *
 * Two paces of change: `slow` as one sample follows another, `fast` with jumps of up to 20 % in
 * pressure and 8 K.
 */
export async function gasBench(print: (line: string) => void): Promise<void> {
  const cpu = cpus()[0]?.model ?? "unknown";
  print(`Gas: density from pressure and temperature, GERG-2008 (CPU time of one core)`);
  print(
    `  core: ${cpu}; Node ${process.version}; load average ${(loadavg()[0] ?? 0).toFixed(1)} on ${cpus().length} cores`,
  );
  print(
    `  fixed arithmetic loop (10^8 multiply-adds in one chain): ${arithmeticSeconds().toFixed(3)} s`,
  );
  for (const { name, composition, aim } of cases) {
    const slow = solvesPerSecond(composition, 1e-3);
    const fast = solvesPerSecond(composition, 1);
    const goal = aim === null ? "" : `, aim ${count(aim)}`;
    print(
      `  ${name}: ${count(slow.best)} solves/s slow, ${count(fast.best)} fast (best of ${ROUNDS}; median ${count(slow.median)} and ${count(fast.median)})${goal}; worst error ${Math.max(slow.worst, fast.worst).toExponential(1)}`,
    );
  }
  const perSample = evaluationsPerSecond();
  print(
    `  all an estimator asks at one state (p, both derivatives, cv, cp, u), Ar 75 % CO2 25 %: ${count(perSample)} states/s`,
  );
}

/** Time that this process had a core to itself, ms: what others do on the machine hardly shows. */
function cpuMilliseconds(): number {
  return process.cpuUsage().user / 1000;
}

/** A chain of dependent multiply-adds: the speed of the core without memory or library calls. */
function arithmeticSeconds(): number {
  let best = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 3; round++) {
    const start = cpuMilliseconds();
    let x = 0.5;
    for (let k = 0; k < 1e8; k++) {
      x = x * 0.999_999_9 + 1e-7;
    }
    const seconds = (cpuMilliseconds() - start) / 1000;
    if (!(x > 0)) {
      throw new Error("the arithmetic loop must end above 0");
    }
    best = Math.min(best, seconds);
  }
  return best;
}

function solvesPerSecond(
  composition: Composition,
  pace: number,
): { best: number; median: number; worst: number } {
  const mixture = createMixture(composition);
  const pressures = new Float64Array(SOLVES);
  const temperatures = new Float64Array(SOLVES);
  for (let k = 0; k < SOLVES; k++) {
    pressures[k] = 11e6 + 8e6 * Math.sin(k * pace);
    temperatures[k] = 290 + 20 * Math.sin(k * pace * 0.37 + 1);
  }
  const densities = new Float64Array(SOLVES);
  const rates: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    let density = 0;
    const start = cpuMilliseconds();
    for (let k = 0; k < SOLVES; k++) {
      density = mixture.densityOrNaN(pressures[k], temperatures[k], density);
      densities[k] = density;
    }
    rates.push((SOLVES * 1000) / (cpuMilliseconds() - start));
  }
  let worst = 0;
  for (let k = 0; k < SOLVES; k += 7) {
    const [density, T] = [densities[k], temperatures[k]];
    // What is left of the pressure, as an error in density.
    const left = mixture.pressurePa(density, T) - pressures[k];
    worst = Math.max(worst, Math.abs(left / (mixture.dPressureDDensity(density, T) * density)));
  }
  if (!(worst < 1e-10)) {
    throw new Error(`density solve is off by ${worst}; it must hold 1e-10`);
  }
  rates.sort((a, b) => b - a);
  return { best: rates[0], median: rates[Math.floor(ROUNDS / 2)], worst };
}

function evaluationsPerSecond(): number {
  const mixture = createMixture({ Ar: 0.75, CO2: 0.25 });
  let best = 0;
  for (let round = 0; round < 3; round++) {
    let sum = 0;
    const start = cpuMilliseconds();
    for (let k = 0; k < 200_000; k++) {
      const density = 5000 + 3000 * Math.sin(k * 1e-3);
      const T = 290 + 20 * Math.sin(k * 3.7e-4);
      sum +=
        mixture.pressurePa(density, T) +
        mixture.dPressureDDensity(density, T) +
        mixture.dPressureDTemperature(density, T) +
        mixture.cvJPerMolK(density, T) +
        mixture.cpJPerMolK(density, T) +
        mixture.internalEnergyJPerMol(density, T);
    }
    if (!Number.isFinite(sum)) {
      throw new Error("a property was not a number");
    }
    best = Math.max(best, (200_000 * 1000) / (cpuMilliseconds() - start));
  }
  return best;
}

function count(x: number): string {
  return Math.round(x).toLocaleString("en-GB");
}
