/** Judges what the node warns of by itself, from what it senses at this turn. */
import type { NodeState } from "./node-state.ts";
import { nothing } from "./sampler.ts";
import { isBlind } from "./sensors.ts";
import {
  arcWithoutGas,
  cylinderLow,
  gatewayLost,
  judgeWarning,
  lineHigh,
  lineLow,
  sensorFault,
  showWarnings,
} from "./warnings.ts";

const gatewayPatienceS = 300;

/** Once a turn. */
export function warn(state: NodeState): void {
  const { warnings, row, gas } = state;
  const { config } = state.keeper;
  const arc = row.arc === 1;
  const line = row.linePa;
  const cylinder = row.cylinderPa;
  const gasOn = gas.gas === "on";
  judgeWarning(warnings, arcWithoutGas, arc && gas.gas === "off", 5, 2);
  const tooLow = line !== nothing && config.lineLeastPa > 0 && line < config.lineLeastPa;
  judgeWarning(warnings, lineLow, gasOn && tooLow, 14, 4);
  const nearMost = line !== nothing && config.lineMostPa > 0 && line > config.lineMostPa * 0.95;
  judgeWarning(warnings, lineHigh, nearMost, 8, 40);
  const nearEmpty =
    cylinder !== nothing && config.residualPa > 0 && cylinder < config.residualPa * 1.1;
  judgeWarning(warnings, cylinderLow, nearEmpty, 40, 40);
  judgeWarning(warnings, sensorFault, isBlind(state.sensors, config), 8, 40);
  const silentS = state.clock.uptimeS - state.clock.heardS;
  judgeWarning(warnings, gatewayLost, silentS >= gatewayPatienceS, 1, 1);
  const welding = arc || (row.arc === nothing && gasOn);
  showWarnings(warnings, config, welding);
}
