import { cannotSee } from "../display/cannot-see.ts";
import { setupWords as text } from "../language/setup-words.ts";
import { words } from "../language/words.ts";
import { type OwnFault, type Step, stepOfPath } from "./checks.ts";
import { type FormPart, Group } from "./inputs.tsx";
import { SafetyNote } from "./safety-note.tsx";
import { ToMend } from "./to-mend.tsx";
import { Needs } from "./weld-step.tsx";

/** Faults whose sentence is clear away from its field; the others stand beside theirs. */
const plain: ReadonlySet<OwnFault> = new Set<OwnFault>([
  "no-name",
  "name-taken",
  "node-elsewhere",
  "gas-not-chosen",
  "no-gas",
  "calibrated-in-future",
]);

/** What is to be mended, what is left, what the weld needs, and what will stay unseen. */
export function CheckStep({ part }: { part: FormPart }) {
  const { checked, units, goTo } = part;
  const { document } = checked;
  const mend = [...new Set([...checked.faults.map((one) => one.step), ...refusedSteps(part)])];
  const liquid = document?.cylinder ? "filledKg" in document.cylinder : false;
  const blind = document ? cannotSee(document, null, liquid) : [];
  return (
    <>
      <SafetyNote refusals={checked.refusals} cautions={checked.cautions} units={units} />
      <ToMend mend={mend} checked={checked} titles={text.steps} goTo={goTo} told={plain} />
      {document && (
        <>
          <Group>
            {checked.gaps.length === 0 ? (
              // Never beside what would be dangerous.
              mend.length === 0 && <p data-field="all-said">{text.check.allSaid}</p>
            ) : (
              <div data-field="gaps">
                <strong>{text.check.left}</strong>
                <ul class="causes">
                  {checked.gaps.map((gap) => (
                    <li key={gap} data-gap={gap}>
                      {text.gaps[gap]}
                    </li>
                  ))}
                </ul>
              </div>
            )}
            <Needs part={part} />
          </Group>
          <Group title={text.check.blind}>
            <ul class="causes" data-field="blind">
              {blind.map((one) => (
                <li key={one} data-blind={one}>
                  {text.check.blinds[one]}
                </li>
              ))}
              <li>{text.check.blinds.battery}</li>
            </ul>
            <details class="setup-help">
              <summary>{text.check.why}</summary>
              <ul class="causes">
                {blind.map((one) => (
                  <li key={one}>{words.station.cannotSee[one]}</li>
                ))}
                <li>{text.check.battery}</li>
              </ul>
            </details>
          </Group>
        </>
      )}
    </>
  );
}

function refusedSteps({ checked }: FormPart): Step[] {
  return checked.refusals.map((one) => stepOfPath(one.path));
}
