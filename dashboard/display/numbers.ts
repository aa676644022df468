import { locale } from "../language/live-words.ts";
import {
  flowInUnit,
  pressureInUnit,
  temperatureInUnit,
  temperatureUnit,
  type UnitChoice,
  volumeInUnit,
  volumeUnit,
} from "./units.ts";

/** Between two bounds that stay on one line: a line may break behind a dash, but for the joiner there. */
export const TO = "\u00a0–\u2060\u00a0";

/** What stands where nothing is known. Its reason stands beside it. */
export const DASH = "–";

const formats = new Map<string, Intl.NumberFormat>();

/** A number with a fixed count of decimals, by the locale in use; never "-0". */
export function fixed(value: number, decimals: number): string {
  const key = `${locale.value} ${decimals}`;
  let format = formats.get(key);
  if (!format) {
    format = new Intl.NumberFormat(locale.value, {
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
    });
    formats.set(key, format);
  }
  const text = format.format(value);
  return /^-[0.,]*$/.test(text) ? text.slice(1) : text;
}

const signs = new Map<string, string>();

/** Decimal sign of the locale in use. */
export function decimalSign(): string {
  let sign = signs.get(locale.value);
  if (sign === undefined) {
    sign = fixed(0.5, 1).slice(1, 2);
    signs.set(locale.value, sign);
  }
  return sign;
}

/** Decimals that a flow deserves: a tenth of a litre, or whole CFH from 20 on. */
export function flowDecimals(shown: number, units: UnitChoice): number {
  return Math.abs(shown) >= (units.flow === "CFH" ? 19.95 : 99.95) ? 0 : 1;
}

/** Flow as a figure without its unit. */
export function flowFigure(lpm: number | null | undefined, units: UnitChoice): string {
  if (lpm === null || lpm === undefined) return DASH;
  const shown = flowInUnit(lpm, units);
  return fixed(shown, flowDecimals(shown, units));
}

/** A limit of the demand window: whole where it is whole. */
export function limitFigure(lpm: number, units: UnitChoice): string {
  const shown = flowInUnit(lpm, units);
  return fixed(shown, units.flow === "CFH" || Math.abs(shown - Math.round(shown)) < 0.05 ? 0 : 1);
}

/** What a scale shows, in its own unit: nobody reads a float to better than a tenth. */
export function readingFigure(reading: number | null | undefined): string {
  if (reading === null || reading === undefined) return DASH;
  return fixed(reading, Math.abs(reading - Math.round(reading)) < 0.05 || reading >= 30 ? 0 : 1);
}

/** Gauge pressure of the cylinder: whole bar or psi, one decimal below 10 bar. */
export function pressureText(pa: number | null | undefined, units: UnitChoice): string {
  if (pa === null || pa === undefined) return DASH;
  const shown = pressureInUnit(pa, units);
  const decimals = units.pressure === "bar" && Math.abs(shown) < 9.95 ? 1 : 0;
  return `${fixed(shown, decimals)} ${units.pressure}`;
}

/** Gauge pressure of the line: two decimals in bar, one in psi. */
export function linePressureText(pa: number | null | undefined, units: UnitChoice): string {
  if (pa === null || pa === undefined) return DASH;
  const decimals = units.pressure === "bar" ? 2 : units.pressure === "psi" ? 1 : 0;
  return `${fixed(pressureInUnit(pa, units), decimals)} ${units.pressure}`;
}

export function temperatureText(celsius: number | null | undefined, units: UnitChoice): string {
  if (celsius === null || celsius === undefined) return DASH;
  return `${fixed(temperatureInUnit(celsius, units), 0)} ${temperatureUnit(units)}`;
}

/** A volume of gas in m³ or ft³. */
export function volumeFigure(litres: number | null | undefined, units: UnitChoice): string {
  if (litres === null || litres === undefined) return DASH;
  const shown = volumeInUnit(litres, units);
  if (units.flow === "CFH") return fixed(shown, shown < 10 ? 1 : 0);
  return fixed(shown, shown < 10 ? 2 : 1);
}

/** A volume with its bounds, which stay together on a line; the unit stands once. */
export function volumeRangeText(
  { low, mean, high }: { low: number; mean: number; high: number },
  units: UnitChoice,
): string {
  return `${volumeText(mean, units)} (${volumeFigure(low, units)}${TO}${volumeFigure(high, units)})`;
}

export function volumeText(litres: number | null | undefined, units: UnitChoice): string {
  if (litres === null || litres === undefined) return DASH;
  return `${volumeFigure(litres, units)} ${volumeUnit(units)}`;
}
