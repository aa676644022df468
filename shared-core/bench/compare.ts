import type { CurveFigure, CurvePoint } from "./device-curve.ts";
import type { BenchResult } from "./fit-device.ts";

/** A tested device with what the test does not say. */
export interface TestedDevice {
  name: string;
  result: BenchResult;
  /** Gauge line pressure at rest and while gas flows, bar; null where not measured. */
  restBar: number | null;
  flowingBar: number | null;
  /** In the owner's currency; null where unknown. */
  price: number | null;
}

/** One device beside the others. Null means: the test does not tell. */
export interface ComparedDevice {
  name: string;
  consistent: boolean | null;
  /** The device's errors against cylinder pressure. */
  curve: CurvePoint[];
  /** Largest error by size, percent, while the device shows the target. */
  worstErrorPercent: number | null;
  /** Largest change of the true flow, percent, where it was right at full and left alone. */
  leftAlonePercent: number | null;
  /** Standard litres that a start blows out for each litre of hose. */
  surgePerHoseLitre: number | null;
  /** Gauge pressure that stays on the diaphragm at rest, bar. */
  idleBar: number | null;
  /** The card has no reading below this cylinder pressure, gauge bar; null where it goes to residual. */
  endsAtBar: number | null;
  price: number | null;
}

/** What the device is wanted for. */
export type BenchWork = "short tacks" | "long runs" | "to the last bar";

export interface Recommendation {
  work: BenchWork;
  /** Null where no device can be recommended. */
  device: string | null;
  reasons: string[];
}

/** Standard atmosphere, bar. */
const ATMOSPHERE_BAR = 1.013_25;

/** Figures of one device, from its card and its line pressures. */
export function comparedDevice(tested: TestedDevice): ComparedDevice {
  const { card, curve } = tested.result;
  const missing = card.filter((entry) => entry.dialTo === null).map((entry) => entry.cylinderBar);
  return {
    name: tested.name,
    consistent: tested.result.consistent,
    curve,
    worstErrorPercent: largest(curve.map((point) => point.error)),
    leftAlonePercent: largest(curve.map((point) => point.leftAlone)),
    surgePerHoseLitre:
      tested.restBar === null || tested.flowingBar === null
        ? null
        : Math.max(0, tested.restBar - tested.flowingBar) / ATMOSPHERE_BAR,
    idleBar: tested.restBar,
    endsAtBar: missing.length === 0 ? null : Math.max(...missing),
    price: tested.price,
  };
}

/**
 * A plain recommendation for each kind of work. A device whose rows contradict each other is not
 * recommended, nor one of which the deciding figure is not known.
 */
export function recommend(devices: readonly ComparedDevice[]): Recommendation[] {
  const sound = devices.filter((device) => device.consistent === true);
  return [
    pick(
      "short tacks",
      sound,
      (one) => one.surgePerHoseLitre,
      (one) => [
        `blows out ${one.surgePerHoseLitre!.toFixed(2)} L for each litre of hose at a start, the least of those tested`,
      ],
    ),
    pick(
      "long runs",
      sound,
      (one) => absolute(one.leftAlonePercent),
      (one) => [
        `left alone its flow changes by ${Math.abs(one.leftAlonePercent!).toFixed(1)} % at most from full to empty, the least of those tested`,
      ],
    ),
    pick(
      "to the last bar",
      sound,
      (one) => (one.curve.length === 0 ? null : (one.endsAtBar ?? 0)),
      (one) => [
        one.endsAtBar === null
          ? "holds the target down to the residual pressure"
          : `holds the target down to below the others, until ${one.endsAtBar.toFixed(0)} bar`,
      ],
    ),
  ];
}

function pick(
  work: BenchWork,
  devices: readonly ComparedDevice[],
  figure: (device: ComparedDevice) => number | null,
  reasons: (device: ComparedDevice) => string[],
): Recommendation {
  const known = devices.filter((device) => figure(device) !== null);
  if (known.length === 0) {
    return {
      work,
      device: null,
      reasons: ["no device with a consistent test tells: test again, with line pressures"],
    };
  }
  // Of equals the cheaper one; an unknown price counts as the dearest.
  const [best] = [...known].sort(
    (a, b) =>
      figure(a)! - figure(b)! ||
      (a.price ?? Number.POSITIVE_INFINITY) - (b.price ?? Number.POSITIVE_INFINITY),
  );
  const unknown = devices.length - known.length;
  const note = unknown > 0 ? [`${unknown} tested device(s) could not be judged for this`] : [];
  return { work, device: best!.name, reasons: [...reasons(best!), ...note] };
}

function absolute(value: number | null): number | null {
  return value === null ? null : Math.abs(value);
}

function largest(figures: readonly (CurveFigure | null)[]): number | null {
  const known = figures.flatMap((figure) => (figure === null ? [] : [figure.percent]));
  if (known.length === 0) return null;
  return known.reduce((most, one) => (Math.abs(one) > Math.abs(most) ? one : most));
}
