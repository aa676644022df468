import type { PressureSensorDocument, RegulatorDocument } from "../documents/hardware.ts";
import { BAR_PA } from "../units/factors.ts";
import type { SafetyFinding, SafetyReport } from "./finding.ts";

/**
 * Proof pressure of a cylinder sensor, over the cylinder's pressure at 55 °C at least: what a
 * cylinder itself is tested to is of this order, and a valve opened fast overshoots.
 */
export const PROOF_OVER_HOTTEST = 1.5;
export const proofSource = "leeward-estimate";

const barText = (pressurePa: number): string => `${Number((pressurePa / BAR_PA).toFixed(1))} bar`;

/**
 * The cylinder's sensor against the pressure of a full cylinder at 55 °C (`hottestPa`, gauge).
 */
export function cylinderSensorFindings(
  sensor: PressureSensorDocument,
  hottestPa: number,
): SafetyReport {
  const refusals: SafetyFinding[] = [];
  const cautions: SafetyFinding[] = [];
  const rangePa = sensor.rangeBar * BAR_PA;
  const leastProofPa = PROOF_OVER_HOTTEST * hottestPa;
  if (rangePa < hottestPa) {
    refusals.push({
      rule: "cylinder-range",
      path: "sensors.cylinder.rangeBar",
      figures: { rangePa, hottestPa },
      message: `is ${barText(rangePa)}, but this filling reaches ${barText(hottestPa)} at 55 °C: the sensor would be over its range. Fit one for ${barText(hottestPa)} or more`,
    });
  }
  if (sensor.proofBar === undefined) {
    // Whatever its proof pressure is, a sensor stands its own range.
    if (rangePa < leastProofPa) {
      cautions.push({
        rule: "cylinder-proof-unknown",
        path: "sensors.cylinder.proofBar",
        figures: { leastPa: leastProofPa, hottestPa },
        message: `is not given: look into the sensor's data sheet, it must be ${barText(leastProofPa)} or more (1.5 times the ${barText(hottestPa)} that this filling reaches at 55 °C)`,
      });
    }
  } else if (sensor.proofBar * BAR_PA < leastProofPa) {
    const proofPa = sensor.proofBar * BAR_PA;
    refusals.push({
      rule: "cylinder-proof",
      path: "sensors.cylinder.proofBar",
      figures: { proofPa, leastPa: leastProofPa, hottestPa },
      message: `is ${barText(proofPa)}, below 1.5 times the ${barText(hottestPa)} that this filling reaches at 55 °C: it could burst. Fit a sensor with a proof pressure of ${barText(leastProofPa)} or more`,
    });
  }
  return { refusals, cautions };
}

/**
 * The line's sensor against a regulator seat that fails open: then the line sees `sourcePa`
 * (gauge), unless a relief device before the sensor opens below what the sensor stands.
 */
export function lineSensorFindings(
  sensor: PressureSensorDocument,
  sourcePa: number,
  regulator: RegulatorDocument | null | undefined,
): SafetyReport {
  const proofPa = sensor.proofBar === undefined ? null : sensor.proofBar * BAR_PA;
  const standsPa = proofPa ?? sensor.rangeBar * BAR_PA;
  const reliefPa = regulator?.reliefBar === undefined ? null : regulator.reliefBar * BAR_PA;
  if (standsPa >= sourcePa || (reliefPa !== null && reliefPa < standsPa)) {
    return { refusals: [], cautions: [] };
  }
  const relief =
    reliefPa === null
      ? "no relief device is before it (regulator.reliefBar)"
      : `the relief device opens at ${barText(reliefPa)} only`;
  const figures = { sourcePa, standsPa, ...(reliefPa === null ? {} : { reliefPa }) };
  const path = "sensors.line.proofBar";
  if (proofPa === null) {
    const message = `is not given, and ${relief}: a regulator seat that fails lets ${barText(sourcePa)} into the line. Look into the sensor's data sheet, and give its proof pressure and the regulator's relief pressure`;
    return { refusals: [], cautions: [{ rule: "line-proof-unknown", path, figures, message }] };
  }
  const message = `is ${barText(proofPa)}, and ${relief}: a regulator seat that fails lets ${barText(sourcePa)} into the line, and the sensor bursts. Fit a sensor with a proof pressure of ${barText(sourcePa)} or more, or a regulator whose relief device opens below ${barText(proofPa)} and give its reliefBar`;
  return { refusals: [{ rule: "line-burst", path, figures, message }], cautions: [] };
}
