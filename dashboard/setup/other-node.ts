import type {
  PressureSensorDocument,
  SensorsDocument,
} from "@leeward/shared-core/documents/hardware.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";

function uncalibrated(sensor: PressureSensorDocument | undefined) {
  if (!sensor) return {};
  const { twoPoint, calibrated, calibrationDue, ...made } = sensor;
  return made;
}

/**
 * A station with another node, or with none: what was found of the former node's sensors (zero, two
 * points, a scale's counts, their day) is not the next one's. What they are stays, to be looked at.
 */
export function withOtherNode(station: StationDocument, node: string | null): StationDocument {
  const before = station.node ?? null;
  if (before === null || before === node || !station.sensors) return { ...station, node };
  const { cylinder, line, scale, ...rest } = station.sensors;
  const sensors: SensorsDocument = {
    ...rest,
    ...(cylinder ? { cylinder: uncalibrated(cylinder) as PressureSensorDocument } : {}),
    ...(line ? { line: uncalibrated(line) as PressureSensorDocument } : {}),
  };
  return { ...station, node, sensors };
}
