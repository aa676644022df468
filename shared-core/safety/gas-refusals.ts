import type { Composition } from "../gases/composition.ts";
import type { SafetyFinding } from "./finding.ts";
import { equivalentHydrogen, hydrogenLimit, isFlammable, TRACE } from "./flammability.ts";
import { OXYGEN_ENRICHED } from "./room-air.ts";

/** Groups of shielding gas end here: C2 at 30 % oxygen, R2 and N5 at 50 % hydrogen. */
export const MOST_OXYGEN = 0.3;
export const MOST_HYDROGEN = 0.5;
export const shieldingGasSource = "iso-14175-2008";

/** What a part is rated for, by its path in the document; undefined where nothing is declared. */
export type RatedPart = Readonly<{ path: string; ratedFor: readonly string[] | undefined }>;

const percent = (fraction: number): string => `${Number((100 * fraction).toPrecision(3))} %`;

/**
 * Gases that must not be in these parts: oxygen and fuel gas never, oxygen-enriched and flammable
 * mixtures only where regulator and sensors are declared as rated for them.
 *
 * @param composition mole fractions
 * @param path of the composition in the document
 */
export function gasRefusals(
  composition: Composition,
  path: string,
  parts: readonly RatedPart[],
): SafetyFinding[] {
  const oxygen = composition.O2 ?? 0;
  const hydrogen = composition.H2 ?? 0;
  const findings: SafetyFinding[] = [];
  if (hydrogen > TRACE && oxygen > TRACE) {
    findings.push({
      rule: "hydrogen-with-oxygen",
      path,
      figures: { hydrogen, oxygen },
      message: `holds ${percent(hydrogen)} hydrogen and ${percent(oxygen)} oxygen: together they can explode inside cylinder and regulator. No shielding gas is mixed so: read the cylinder's label and correct the gas`,
    });
  }
  if (oxygen > MOST_OXYGEN) {
    findings.push({
      rule: "oxygen",
      path,
      figures: { oxygen },
      message: `holds ${percent(oxygen)} oxygen: that is no shielding gas, and oxygen sets parts on fire that are not made for it. Never fit this node to oxygen: take it off, and correct the gas if the label says otherwise`,
    });
  } else if (oxygen > OXYGEN_ENRICHED) {
    findings.push(
      ...unrated(parts, "oxidising").map((part) => ({
        rule: "oxygen-enriched" as const,
        path: part.path,
        figures: { oxygen, limit: OXYGEN_ENRICHED },
        message: `does not say oxidising, and the gas holds ${percent(oxygen)} oxygen, above ${percent(OXYGEN_ENRICHED)}: dust, grease and seals burn in it. Use parts that are rated and cleaned for oxygen and declare them, or another gas`,
      })),
    );
  }
  if (hydrogen > MOST_HYDROGEN) {
    findings.push({
      rule: "fuel-gas",
      path,
      figures: { hydrogen },
      message: `holds ${percent(hydrogen)} hydrogen: that is fuel gas, no shielding gas. Never fit this node to fuel gas: take it off, and correct the gas if the label says otherwise`,
    });
  } else if (isFlammable(composition)) {
    const limit = hydrogenLimit(composition) ?? 0;
    findings.push(
      ...unrated(parts, "flammable").map((part) => ({
        rule: "flammable" as const,
        path: part.path,
        figures: { hydrogen, limit, equivalent: equivalentHydrogen(composition) },
        message: `does not say flammable, and the gas burns in air: ${percent(hydrogen)} hydrogen, where ${percent(limit)} in this mixture is the most that does not (ISO 10156). Use parts that are rated for flammable gas and declare them, or another gas; local rules on flammable gas apply`,
      })),
    );
  }
  return findings;
}

function unrated(parts: readonly RatedPart[], rating: string): RatedPart[] {
  return parts.filter((part) => !part.ratedFor?.includes(rating));
}
