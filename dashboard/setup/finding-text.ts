import type { SafetyFinding } from "@leeward/shared-core/safety/finding.ts";
import { fixed, pressureText } from "../display/numbers.ts";
import { pressureInUnit, type UnitChoice } from "../display/units.ts";
import { setupWords } from "../language/setup-words.ts";

/** Percent of a fraction, to a hundredth where it must be: a content must not read as its limit. */
function percent(fraction: number | undefined): string {
  const value = 100 * (fraction ?? 0);
  const decimals = [0, 1].find((one) => Math.abs(value - Number(value.toFixed(one))) < 0.005) ?? 2;
  return `${fixed(value, decimals)} %`;
}

/** A pressure that a part must withstand at least: rounded up, so that what it says is enough. */
function atLeast(pa: number | undefined, units: UnitChoice): string {
  if (pa === undefined) return pressureText(pa, units);
  const unitPa = 1 / pressureInUnit(1, units);
  const step = unitPa * (units.pressure === "bar" && pa < 9.95 * unitPa ? 0.1 : 1);
  return pressureText(Math.ceil(pa / step - 1e-6) * step, units);
}

/** A finding in the words and units of whoever reads. */
export function findingText(finding: SafetyFinding, units: UnitChoice): string {
  const text = setupWords.safety;
  const { figures, path } = finding;
  const pressure = (name: string) => pressureText(figures[name], units);
  const least = (name: string) => atLeast(figures[name], units);
  const part = path.startsWith("regulator")
    ? setupWords.rated.regulator
    : path.startsWith("sensors.line")
      ? setupWords.rated.line
      : setupWords.rated.cylinder;
  const relief =
    figures.reliefPa === undefined ? text.noRelief : text.reliefAt(pressure("reliefPa"));
  switch (finding.rule) {
    case "hydrogen-with-oxygen":
      return text[finding.rule](percent(figures.hydrogen), percent(figures.oxygen));
    case "oxygen":
      return text.oxygen(percent(figures.oxygen));
    case "oxygen-enriched":
      return text[finding.rule](percent(figures.oxygen), part);
    case "fuel-gas":
      return text[finding.rule](percent(figures.hydrogen));
    case "flammable":
      return text.flammable(percent(figures.hydrogen), percent(figures.limit), part);
    case "cylinder-range":
      return text[finding.rule](pressure("rangePa"), least("hottestPa"));
    case "cylinder-proof":
      return text[finding.rule](pressure("proofPa"), least("leastPa"), least("hottestPa"));
    case "cylinder-proof-unknown":
      return text[finding.rule](least("leastPa"));
    case "line-burst":
      return text[finding.rule](pressure("standsPa"), least("sourcePa"), relief);
    case "line-proof-unknown":
      return text[finding.rule](least("sourcePa"), relief);
    case "pressure-unknown":
      return text[finding.rule];
  }
}
