import { GasModel } from "@leeward/shared-core/estimation/gas-model.ts";
import { markdownTable, percent, together, twoDigits } from "./table.ts";

/**
 * The error budget of hardware-notes/measuring.md, from the limits named here and GERG-2008. One sigma;
 * a limit ±a counts as a/√3, a step as step/√12 (JCGM 100, rectangular distribution).
 */

const airPa = 101_325;
const gaugeToAbsolute = (gaugePa: number) => gaugePa + airPa;
const fromLimit = (limit: number) => limit / Math.sqrt(3);
const fromStep = (step: number) => step / Math.sqrt(12);

/** The example: argon, 20 °C. */
const lineRangePa = 10e5;
const linePa = gaugeToAbsolute(3.45e5);
const cylinderRangePa = 250e5;
const cylinderPa = gaugeToAbsolute(180e5);
const lowCylinderPa = gaugeToAbsolute(30e5);
const temperatureK = 293.15;
const argon = new GasModel({ Ar: 1 });

/** Relative change of content per Pa, and per K, at a cylinder pressure (absolute). */
function sensitivity(pressurePa: number): { perPa: number; perK: number } {
  const density = argon.densityAt(pressurePa, temperatureK);
  const slope = argon.slope(density, temperatureK);
  return {
    perPa: 1 / (slope * density),
    perK: argon.heating(density, temperatureK) / (slope * density),
  };
}

interface Row {
  source: string;
  limit: string;
  sigma: string;
  flow: number | null;
  content: number | null;
  note?: string;
}

export interface ErrorBudget {
  rows: Row[];
  /** Relative, one sigma. */
  conductance: number;
  flowUncalibrated: number;
  flowCalibrated: number;
  contentUncalibrated: number;
  contentCalibrated: number;
}

export function errorBudget(): ErrorBudget {
  const high = sensitivity(cylinderPa);
  const low = sensitivity(lowCylinderPa);
  const kPa = (pa: number) => `${twoDigits(pa / 1000)} kPa`;
  const line = (sigmaPa: number) => sigmaPa / linePa;
  const stepPa = (rangePa: number) => (187.5e-6 / 4) * rangePa;

  const p2 = fromLimit(0.005 * lineRangePa);
  const p2Calibrated = fromLimit(0.0025 * lineRangePa);
  const drift = fromLimit(20 * 0.0002 * lineRangePa);
  const gain = fromLimit(0.0005);
  const weather = fromLimit(1500);
  const gasK = fromLimit(5);
  const p1 = fromLimit(0.005 * cylinderRangePa);
  const p1Calibrated = fromLimit(0.0025 * cylinderRangePa);
  const wallK = fromLimit(3);
  const volume = 0.005;
  const model = argon.modelSigma(9000);

  // The fall of content over a stretch: span of P1, volume, temperature of the gas, equation of state.
  const spanP1 = fromLimit(0.005);
  const conductance = together([spanP1, volume, wallK * high.perK, model]);
  const steady = [drift, weather].map(line).concat(0.5 * (gasK / temperatureK), gain, conductance);
  const contentRest = [wallK * high.perK, volume, model, weather * high.perPa];
  const rows: Row[] = [
    {
      source: "P2 accuracy, uncalibrated",
      limit: "0.5 % of 10 bar",
      sigma: kPa(p2),
      flow: line(p2),
      content: null,
    },
    {
      source: "P2 after two points, class 0.25 gauge of 10 bar",
      limit: "0.25 %",
      sigma: kPa(p2Calibrated),
      flow: line(p2Calibrated),
      content: null,
    },
    {
      source: "P2 drift on a cold body, −20 K at 0.02 %/K of range",
      limit: "4 kPa",
      sigma: kPa(drift),
      flow: line(drift),
      content: null,
    },
    {
      source: "converter step 187.5 µV",
      limit: `${twoDigits(stepPa(lineRangePa))} Pa (P2), ${twoDigits(stepPa(cylinderRangePa))} Pa (P1)`,
      sigma: `${twoDigits(fromStep(stepPa(lineRangePa)))} Pa; ${twoDigits(fromStep(stepPa(cylinderRangePa)))} Pa`,
      flow: line(fromStep(stepPa(lineRangePa))),
      content: fromStep(stepPa(cylinderRangePa)) * high.perPa,
    },
    {
      source: "converter gain, same for supply and sensor",
      limit: "cancels in the ratio; 0.05 % left [CP]",
      sigma: percent(gain),
      flow: gain,
      content: gain * cylinderPa * high.perPa,
    },
    {
      source: "air pressure, gauge to absolute",
      limit: "±15 hPa",
      sigma: kPa(weather),
      flow: line(weather),
      content: weather * high.perPa,
    },
    {
      source: "gas temperature at the restriction",
      limit: "±5 K",
      sigma: `${twoDigits(gasK)} K`,
      flow: 0.5 * (gasK / temperatureK),
      content: null,
    },
    {
      source: "P1 accuracy, uncalibrated",
      limit: "0.5 % of 250 bar",
      sigma: kPa(p1),
      flow: null,
      content: p1 * high.perPa,
      note: ` at 180 bar, ${percent(p1 * low.perPa)} at 30 bar`,
    },
    {
      source: "P1 after two points, class 0.25 gauge of 250 bar",
      limit: "0.25 %",
      sigma: kPa(p1Calibrated),
      flow: null,
      content: p1Calibrated * high.perPa,
      note: ` at 180 bar, ${percent(p1Calibrated * low.perPa)} at 30 bar`,
    },
    {
      source: "wall to gas temperature",
      limit: "±3 K",
      sigma: `${twoDigits(wallK)} K`,
      flow: null,
      content: wallK * high.perK,
    },
    {
      source: "water volume, stamped",
      limit: "–",
      sigma: percent(volume),
      flow: null,
      content: volume,
    },
    {
      source: "equation of state, argon",
      limit: "–",
      sigma: percent(model),
      flow: null,
      content: model,
    },
    {
      source:
        "**conductance learnt from the cylinder's fall** (span of P1, volume, temperature, equation)",
      limit: "",
      sigma: "",
      flow: conductance,
      content: null,
    },
  ];
  return {
    rows,
    conductance,
    flowUncalibrated: together([...steady, line(p2)]),
    flowCalibrated: together([...steady, line(p2Calibrated)]),
    contentUncalibrated: together([...contentRest, p1 * high.perPa]),
    contentCalibrated: together([...contentRest, p1Calibrated * high.perPa]),
  };
}

export function errorBudgetTable(): string {
  const budget = errorBudget();
  const cell = (share: number | null, note = "") => (share === null ? "–" : percent(share) + note);
  const rows = budget.rows.map((row) => [
    row.source,
    row.limit,
    row.sigma,
    cell(row.flow),
    cell(row.content, row.note),
  ]);
  const sum = (name: string, flow: number, content: number) => [
    `**together, ${name}**`,
    "",
    "",
    `**${percent(flow)}**`,
    `**${percent(content)}** at 180 bar`,
  ];
  return markdownTable(
    ["source", "limit", "sigma", "effect on choked flow (∝ p_abs/√T)", "effect on content"],
    [
      ...rows,
      sum("uncalibrated", budget.flowUncalibrated, budget.contentUncalibrated),
      sum("after two-point calibration", budget.flowCalibrated, budget.contentCalibrated),
    ],
  );
}
