import { arcWithoutGas } from "./arc-without-gas.ts";
import { backPressureChanged } from "./back-pressure-changed.ts";
import { calibrationOverdue } from "./calibration-overdue.ts";
import type { AlarmCondition } from "./condition.ts";
import { cylinderEmpty } from "./cylinder-empty.ts";
import { cylinderLow } from "./cylinder-low.ts";
import { gasLeftOn } from "./gas-left-on.ts";
import { leak } from "./leak.ts";
import { linePressureHigh } from "./line-pressure-high.ts";
import { nobodyReachable } from "./nobody-reachable.ts";
import { nodeClockWrong } from "./node-clock-wrong.ts";
import { nodeConfigRefused } from "./node-config-refused.ts";
import { nodeSilent } from "./node-silent.ts";
import { nodeSupplyLow } from "./node-supply-low.ts";
import { overFlow } from "./over-flow.ts";
import { readingShift } from "./reading-shift.ts";
import { regulatorCreep } from "./regulator-creep.ts";
import { regulatorIcing } from "./regulator-icing.ts";
import { reserveInUse } from "./reserve-in-use.ts";
import { runsOutSoon } from "./runs-out-soon.ts";
import { sensorFault } from "./sensor-fault.ts";
import { trappedLinePressure } from "./trapped-line-pressure.ts";
import { underShielding } from "./under-shielding.ts";
import { wrongGas } from "./wrong-gas.ts";

/** Every alarm condition, the loudest first. A new one is one file and one line here. */
export const alarmConditions: readonly AlarmCondition[] = [
  arcWithoutGas,
  linePressureHigh,
  underShielding,
  cylinderEmpty,
  runsOutSoon,
  regulatorCreep,
  gasLeftOn,
  leak,
  regulatorIcing,
  wrongGas,
  backPressureChanged,
  nodeSilent,
  sensorFault,
  reserveInUse,
  trappedLinePressure,
  readingShift,
  overFlow,
  cylinderLow,
  nodeSupplyLow,
  nodeClockWrong,
  nodeConfigRefused,
  calibrationOverdue,
  nobodyReachable,
];

const byId = new Map(alarmConditions.map((condition) => [condition.condition, condition]));

/** The condition of this id, or undefined. */
export function findCondition(id: string): AlarmCondition | undefined {
  return byId.get(id);
}
