import type { CylinderDocument } from "../documents/cylinder.ts";
import type { RegulatorDocument, SensorsDocument } from "../documents/hardware.ts";
import type { StationDocument, SupplyDocument } from "../documents/station.ts";
import { validComposition } from "../gases/composition.ts";
import { BAR_PA } from "../units/factors.ts";
import type { SafetyReport } from "./finding.ts";
import { gasRefusals, type RatedPart } from "./gas-refusals.ts";
import { hottestGaugePa } from "./hottest-cylinder.ts";
import { cylinderSensorFindings, lineSensorFindings } from "./sensor-refusals.ts";

/**
 * What would be dangerous about a described station: its gas in parts that are not made for it, a
 * cylinder sensor that the full cylinder overloads, a line sensor that a failed seat would burst.
 * It judges the description alone; a person looks at the real parts, and local rules go first.
 *
 * @param supply the shared supply that the station names, where it is known
 */
export function stationSafety(
  station: StationDocument,
  supply: SupplyDocument | null = null,
): SafetyReport {
  const { regulator, sensors, cylinder } = station;
  if (cylinder) {
    return merge(
      ownGas([cylinder], "cylinder", regulator, sensors),
      pressures([cylinder], regulator, sensors, station.altitudeM),
    );
  }
  if (!supply) return { refusals: [], cautions: [] };
  return dropSafety(station, supply);
}

/** The same for a shared supply: its cylinders, regulator and sensors. */
export function supplySafety(supply: SupplyDocument): SafetyReport {
  const cylinders = cylindersOf(supply);
  return merge(
    ownGas(cylinders, "cylinder", supply.regulator, supply.sensors),
    pressures(cylinders, supply.regulator, supply.sensors, supply.altitudeM),
  );
}

function cylindersOf(supply: SupplyDocument): CylinderDocument[] {
  return supply.reserve ? [supply.cylinder, supply.reserve] : [supply.cylinder];
}

/** A place on a ring: its own regulator's seat may fail, or the ring's where it has none. */
function dropSafety(station: StationDocument, supply: SupplyDocument): SafetyReport {
  const { regulator, sensors } = station;
  const parts: RatedPart[] = [];
  if (regulator) parts.push(rated("regulator", regulator));
  if (sensors?.line) parts.push(rated("sensors.line", sensors.line));
  const gas: SafetyReport = {
    refusals: cylindersOf(supply).flatMap((one) =>
      gasRefusals(validComposition(one.composition), "supply", parts),
    ),
    cautions: [],
  };
  if (!sensors?.line) return gas;
  const ring = supply.regulator;
  const ringBar = ring?.reliefBar ?? ring?.maxLineBar ?? ring?.deliveryBar;
  if (regulator && ringBar !== undefined) {
    return merge(gas, lineSensorFindings(sensors.line, ringBar * BAR_PA, regulator));
  }
  const hottest = hottestOf(cylindersOf(supply), supply.altitudeM ?? station.altitudeM);
  if (typeof hottest !== "number") return merge(gas, hottest);
  const relief = regulator?.reliefBar === undefined ? ring : regulator;
  return merge(gas, lineSensorFindings(sensors.line, hottest, relief));
}

function ownGas(
  cylinders: readonly CylinderDocument[],
  path: string,
  regulator: RegulatorDocument | null | undefined,
  sensors: SensorsDocument | undefined,
): SafetyReport {
  // A part that is not described is not declared as rated for anything.
  const parts: RatedPart[] = [rated("regulator", regulator)];
  parts.push(rated("sensors.cylinder", sensors?.cylinder));
  if (sensors?.line) parts.push(rated("sensors.line", sensors.line));
  return {
    refusals: cylinders.flatMap((one, k) =>
      gasRefusals(
        validComposition(one.composition),
        `${k === 0 ? path : "reserve"}.composition`,
        parts,
      ),
    ),
    cautions: [],
  };
}

function pressures(
  cylinders: readonly CylinderDocument[],
  regulator: RegulatorDocument | null | undefined,
  sensors: SensorsDocument | undefined,
  altitudeM: number | undefined,
): SafetyReport {
  const hottest = hottestOf(cylinders, altitudeM);
  if (typeof hottest !== "number") return hottest;
  return merge(
    ...(sensors?.cylinder ? [cylinderSensorFindings(sensors.cylinder, hottest)] : []),
    ...(sensors?.line ? [lineSensorFindings(sensors.line, hottest, regulator)] : []),
  );
}

/** The highest gauge pressure of these cylinders at 55 °C, Pa, or that it cannot be told. */
function hottestOf(
  cylinders: readonly CylinderDocument[],
  altitudeM: number | undefined,
): number | SafetyReport {
  let most = 0;
  for (const cylinder of cylinders) {
    const hottest = hottestGaugePa(cylinder, altitudeM);
    if (!hottest.ok) {
      return {
        refusals: [],
        cautions: [
          {
            rule: "pressure-unknown",
            path: "cylinder",
            figures: {},
            message: `its pressure at 55 °C cannot be computed, so that no sensor can be judged (${hottest.error.message}) Check gas, water volume and filling`,
          },
        ],
      };
    }
    most = Math.max(most, hottest.value);
  }
  return most;
}

function rated(path: string, part: { ratedFor?: string[] | undefined } | null | undefined) {
  return { path: `${path}.ratedFor`, ratedFor: part?.ratedFor };
}

function merge(...reports: readonly SafetyReport[]): SafetyReport {
  return {
    refusals: reports.flatMap((report) => report.refusals),
    cautions: reports.flatMap((report) => report.cautions),
  };
}
