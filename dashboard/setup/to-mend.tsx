import { coreText } from "../language/core-words.ts";
import { setupWords as text } from "../language/setup-words.ts";
import type { Checked, OwnFault, Step } from "./checks.ts";

/** Steps that hold something to mend, each with a way there, and what no step holds. */
export function ToMend(props: {
  mend: readonly Step[];
  checked: Checked;
  titles: Readonly<Partial<Record<Step, string>>>;
  goTo: (step: Step) => void;
  /** Faults that are told here too, since their sentence is clear away from its field. */
  told?: ReadonlySet<OwnFault>;
}) {
  const { mend, checked, titles, goTo, told } = props;
  if (mend.length === 0 && checked.others.length === 0) return null;
  const toldOf = (step: Step) =>
    checked.faults
      .filter((one) => one.step === step && told?.has(one.fault))
      .map(({ fault }) => text.faults[fault]);
  return (
    <div class="problem" data-field="to-mend">
      <strong>{text.check.mend}</strong>
      <ul>
        {mend.map((step) => (
          <li key={step}>
            <button type="button" class="link-button" onClick={() => goTo(step)}>
              {text.check.goTo(titles[step] ?? text.steps[step])}
            </button>
            {[...new Set(toldOf(step))].map((fault) => (
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
  );
}
