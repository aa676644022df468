import type {
  PressureSensorDocument,
  SensorsDocument,
} from "@leeward/shared-core/documents/hardware.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { NodeConfig } from "@leeward/shared-core/messages/node-messages.ts";

const paPerBar = 1e5;

/**
 * What a station's description means for its node: the ranges of its transducers, and the limits at
 * which the node warns by itself, gauge Pa. `revision` is the description's version.
 */
export function nodeConfig(document: StationDocument, revision: number): NodeConfig {
  const { sensors, regulator, cylinder } = document;
  const residualBar = cylinder?.residualBar;
  const mostBar = regulator?.maxLineBar;
  const deliveryBar = regulator?.deliveryBar;
  const line = sensors?.line;
  const scale = sensors?.scale && scaleOf(sensors.scale);
  return {
    revision,
    calibration: {
      ...(sensors?.cylinder ? { cylinder: transducer(sensors.cylinder) } : {}),
      line: line ? { fitted: true, ...transducer(line) } : { fitted: false },
      ...(scale ? { scale } : {}),
    },
    limits: {
      ...(residualBar === undefined ? {} : { residualPa: Math.round(residualBar * paPerBar) }),
      // Below half the delivery pressure the flow is far too short, whatever the weld.
      ...(line && deliveryBar !== undefined
        ? { lineLeastPa: Math.round(deliveryBar * 0.5 * paPerBar) }
        : {}),
      ...(line && mostBar !== undefined ? { lineMostPa: Math.round(mostBar * paPerBar) } : {}),
    },
  };
}

/** Range and two-point calibration; a revision without them would undo what was calibrated. */
function transducer({ rangeBar, twoPoint }: PressureSensorDocument) {
  return {
    rangePa: rangeBar * paPerBar,
    ...(twoPoint
      ? {
          lowReadsPa: Math.round(twoPoint.lowReadsBar * paPerBar),
          lowIsPa: Math.round(twoPoint.lowIsBar * paPerBar),
          highReadsPa: Math.round(twoPoint.highReadsBar * paPerBar),
          highIsPa: Math.round(twoPoint.highIsBar * paPerBar),
        }
      : {}),
  };
}

function scaleOf({
  lowReads,
  lowIsKg,
  highReads,
  highIsKg,
}: NonNullable<SensorsDocument["scale"]>) {
  return { lowReads, lowIsKg, highReads, highIsKg };
}
