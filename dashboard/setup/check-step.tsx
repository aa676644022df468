import { cannotSee } from "../display/cannot-see.ts";
import { coreText } from "../language/core-words.ts";
import { setupWords as text } from "../language/setup-words.ts";
import { words } from "../language/words.ts";
import { type Step, stepOfPath } from "./checks.ts";
import { type FormPart, Group } from "./inputs.tsx";
import { SafetyNote } from "./safety-note.tsx";
import { Needs } from "./weld-step.tsx";

/** Faults whose sentence is clear away from its field; the others stand beside theirs. */
const plain: ReadonlySet<string> = new Set([
  "no-name",
  "name-taken",
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
  return (
    <>
      <SafetyNote refusals={checked.refusals} cautions={checked.cautions} units={units} />
      {(mend.length > 0 || checked.others.length > 0) && (
        <div class="problem" data-field="to-mend">
          <strong>{text.check.mend}</strong>
          <ul>
            {mend.map((step) => (
              <li key={step}>
                <button type="button" class="link-button" onClick={() => goTo(step)}>
                  {text.check.goTo(text.steps[step])}
                </button>
                {[
                  ...new Set(
                    checked.faults
                      .filter((one) => one.step === step && plain.has(one.fault))
                      .map(({ fault }) => text.faults[fault]),
                  ),
                ].map((fault) => (
                  <p key={fault}>{fault}</p>
                ))}
              </li>
            ))}
            {checked.others.map((fault) => (
              <li key={fault.path + fault.message}>
                <code>{fault.path}</code> {coreText(fault.message)}
              </li>
            ))}
          </ul>
        </div>
      )}
      {document && (
        <>
          <Group>
            {checked.gaps.length === 0 ? (
              <p data-field="all-said">{text.check.allSaid}</p>
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
              {cannotSee(document, null, liquid).map((blind) => (
                <li key={blind} data-blind={blind}>
                  {words.station.cannotSee[blind]}
                </li>
              ))}
            </ul>
            <p class="quiet">{text.check.battery}</p>
          </Group>
        </>
      )}
    </>
  );
}

function refusedSteps({ checked }: FormPart): Step[] {
  return checked.refusals.map((one) => stepOfPath(one.path));
}
