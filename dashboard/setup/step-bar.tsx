import { setupWords as text } from "../language/setup-words.ts";

/** The steps of a form: where one is, and which are to mend. */
export function StepBar<T extends string>(props: {
  steps: readonly { step: T; name: string; faulty: boolean }[];
  current: T;
  onGo: (step: T) => void;
}) {
  return (
    <ol class="setup-steps" data-steps={props.steps.length} aria-label={text.stepsLabel}>
      {props.steps.map(({ step, name, faulty }, k) => (
        <li key={step}>
          <button
            type="button"
            aria-current={step === props.current ? "step" : undefined}
            data-step={step}
            aria-label={[`${k + 1} ${name}`, ...(faulty ? [`(${text.toMend})`] : [])].join(" ")}
            onClick={() => props.onGo(step)}
          >
            <span class="setup-step-number">{k + 1}</span>{" "}
            <span class="setup-step-name">
              {name}
              {faulty && <small> ({text.toMend})</small>}
            </span>
            {faulty && (
              <small class="setup-step-mark" aria-hidden="true">
                !
              </small>
            )}
          </button>
        </li>
      ))}
    </ol>
  );
}
