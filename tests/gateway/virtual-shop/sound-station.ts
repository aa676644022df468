import { unsuitedGas } from "@leeward/shared-core/alarms/wrong-gas.ts";
import { demand } from "@leeward/shared-core/demand/index.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { stationSafety } from "@leeward/shared-core/safety/station-safety.ts";
import { CFH_M3_PER_S, LITRE_PER_MINUTE_M3_PER_S } from "@leeward/shared-core/units/factors.ts";

/** Why a flow may lie beside the demand tables: it is no weld, or the example is about too much. */
export type FlowExcuse = "purge" | "stress";

/**
 * What speaks against an example being shown to anybody: a flow that no source of the demand tables
 * bears out, a gas that does not suit the process, parts that would be dangerous. Empty where it is
 * sound. An excuse covers the flow alone.
 */
export function faultsOfExample(station: StationDocument, excuse?: FlowExcuse): string[] {
  const faults = stationSafety(station).refusals.map((one) => `${one.path} ${one.message}`);
  const unsuited = unsuitedGas({ station, supply: null });
  if (unsuited !== null) faults.push(`the gas does not suit the process: ${unsuited}`);
  if (excuse === undefined) faults.push(...flowFaults(station));
  return faults;
}

function flowFaults({ procedure, cylinder, flowDevice }: StationDocument): string[] {
  if (!procedure || !cylinder) return [];
  const { minimumLpm: _min, targetLpm: _target, maximumLpm: _max, ...asked } = procedure;
  const found = demand(asked, cylinder.composition);
  const { minimumLpm, maximumLpm } = found.window;
  if (minimumLpm === null || maximumLpm === null || found.spread === null) {
    return [`the demand tables have no window: ${found.window.why}`];
  }
  const low = Math.min(minimumLpm, found.spread.lowLpm);
  const high = Math.max(maximumLpm, found.spread.highLpm);
  const unit = flowDevice?.readingUnit === "CFH" ? CFH_M3_PER_S : LITRE_PER_MINUTE_M3_PER_S;
  const reading = flowDevice?.reading;
  const flows: [string, number | null | undefined][] = [
    ["targetLpm", procedure.targetLpm],
    ["the reading", reading === undefined ? null : (reading * unit) / LITRE_PER_MINUTE_M3_PER_S],
  ];
  const faults = flows.flatMap(([what, lpm]) =>
    typeof lpm !== "number" || (lpm >= low && lpm <= high)
      ? []
      : [`${what} is ${lpm.toFixed(1)} L/min; sources say ${low.toFixed(1)} to ${high.toFixed(1)}`],
  );
  // Limits of one's own that no flow of the tables meets are none for this weld.
  if ((procedure.minimumLpm ?? 0) > high) faults.push(`minimumLpm is above ${high.toFixed(1)}`);
  if ((procedure.maximumLpm ?? high) < low) faults.push(`maximumLpm is below ${low.toFixed(1)}`);
  return faults;
}
