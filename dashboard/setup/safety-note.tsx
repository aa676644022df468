import type { SafetyFinding } from "@leeward/shared-core/safety/finding.ts";
import type { UnitChoice } from "../display/units.ts";
import { setupWords } from "../language/setup-words.ts";
import { findingText } from "./finding-text.ts";

/** What would be dangerous, in plain sight and read out at once; nothing where nothing is. */
export function SafetyNote(props: {
  refusals: readonly SafetyFinding[];
  cautions: readonly SafetyFinding[];
  units: UnitChoice;
}) {
  const { refusals, cautions, units } = props;
  const text = setupWords.safety;
  return (
    <>
      {/* Always there, so that it is read out when something comes into it. */}
      <div role="alert">
        {refusals.length > 0 && (
          <div class="problem" data-field="refusals">
            <strong>{text.title}</strong>
            <ul>
              {refusals.map((one) => (
                <li key={one.rule + one.path} data-rule={one.rule}>
                  {findingText(one, units)}
                </li>
              ))}
            </ul>
            <p>{text.note}</p>
          </div>
        )}
      </div>
      {cautions.length > 0 && (
        <div class="caution" data-field="cautions">
          <strong>{text.cautionTitle}</strong>
          <ul class="causes">
            {cautions.map((one) => (
              <li key={one.rule + one.path} data-rule={one.rule}>
                {findingText(one, units)}
              </li>
            ))}
          </ul>
        </div>
      )}
    </>
  );
}
