import { PhysicsError, type Result, toResult } from "../errors.ts";
import { atmosphericPressurePa } from "./atmosphere.ts";
import { parseQuantity, type Quantity, toSi } from "./quantity.ts";

/** What a pressure means where its unit does not say: a plain `psi` or `bar`. */
export type UnstatedPressure = "gauge" | "absolute";

/**
 * Absolute pressure, Pa, of a pressure with its unit. `psig`, `barg` are gauge, `psia`, `bara` and
 * `atm` absolute; for the others `unstated` decides, since a wrong guess is off by an atmosphere.
 *
 * @param altitudeM height above sea level, for gauge pressures
 * @throws PhysicsError `PHYSICS_RANGE` below vacuum
 */
export function absolutePaOf(
  quantity: Quantity,
  unstated: UnstatedPressure,
  altitudeM = 0,
): number {
  const stated = quantity.unit.pressureType ?? "either";
  const gauge = (stated === "either" ? unstated : stated) === "gauge";
  const pressurePa =
    toSi(quantity.value, quantity.unit) + (gauge ? atmosphericPressurePa(altitudeM) : 0);
  if (!(pressurePa >= 0)) {
    throw new PhysicsError(
      "PHYSICS_RANGE",
      "pressure",
      `${quantity.value} ${quantity.unit.symbol}`,
      "it lies below vacuum; check the sign, and whether it is gauge or absolute.",
    );
  }
  return pressurePa;
}

/** Reads a text such as `2200 psi` as absolute pressure, Pa. */
export function parseAbsolutePa(
  text: string,
  unstated: UnstatedPressure,
  altitudeM = 0,
): Result<number> {
  const parsed = parseQuantity("pressure", text);
  return parsed.ok ? toResult(() => absolutePaOf(parsed.value, unstated, altitudeM)) : parsed;
}
