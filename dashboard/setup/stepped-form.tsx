import type { ComponentChildren, RefObject } from "preact";
import { useRef, useState } from "preact/hooks";
import { setupWords as text } from "../language/setup-words.ts";
import { type Checked, type Step, stepOfPath } from "./checks.ts";
import type { SetupForm } from "./setup-form.ts";
import { StepBar } from "./step-bar.tsx";

/** Where somebody is in a form of several steps. */
export interface AtStep<S extends Step> {
  step: S;
  goTo: (step: S) => void;
  heading: RefObject<HTMLHeadingElement | null>;
}

export function useStep<S extends Step>(start: S): AtStep<S> {
  const [step, setStep] = useState<S>(start);
  const heading = useRef<HTMLHeadingElement>(null);
  const goTo = (next: S) => {
    setStep(() => next);
    scrollTo(0, 0);
    // A new step begins with its heading, for whoever goes by keyboard or ear.
    requestAnimationFrame(() => heading.current?.focus({ preventScroll: true }));
  };
  return { step, goTo, heading };
}

/** What is to mend in a step: faults of what was passed or typed, and what is refused. */
function isFaulty(checked: Checked, form: SetupForm, step: Step, passed: boolean): boolean {
  return (
    checked.faults.some((fault) => fault.step === step && (passed || form[fault.field] !== "")) ||
    checked.refusals.some((finding) => stepOfPath(finding.path) === step)
  );
}

/** A form in steps: a bar of them, the one where one is, and the ways back, on and to save. */
export function SteppedForm<S extends Step>(props: {
  steps: readonly S[];
  titles: Readonly<Record<S, string>>;
  at: AtStep<S>;
  form: SetupForm;
  checked: Checked;
  /** What besides is to mend in a step that was passed. */
  missing?: (step: S) => boolean;
  save: { text: string; possible: boolean; act: () => void };
  /** Saving before the last step; left out where that cannot be. */
  saveEarly?: { text: string; sending: boolean } | null;
  /** Between the step and the buttons. */
  notes: ComponentChildren;
  children: ComponentChildren;
}) {
  const { steps, titles, at, form, checked, missing, save, saveEarly } = props;
  const { step, goTo, heading } = at;
  const index = steps.indexOf(step);
  const before: S | undefined = steps[index - 1];
  const next: S | undefined = steps[index + 1];
  return (
    <form
      class="setup-form"
      onSubmit={(event) => {
        event.preventDefault();
        if (next) goTo(next);
      }}
    >
      <StepBar<S>
        current={step}
        onGo={goTo}
        steps={steps.map((one, k) => ({
          step: one,
          name: titles[one],
          faulty: isFaulty(checked, form, one, k < index) || (k < index && missing?.(one) === true),
        }))}
      />
      <h2 ref={heading} tabIndex={-1}>
        {/* For the eye the bar above says it. */}
        <span class="visually-hidden">{text.stepOf(index + 1, steps.length)}</span> {titles[step]}
      </h2>
      {props.children}
      {props.notes}
      <div class="setup-actions">
        {before && (
          <button type="button" class="button button-glove" onClick={() => goTo(before)}>
            {text.previous}
          </button>
        )}
        {next && saveEarly && (
          <button
            type="button"
            class="button button-glove"
            disabled={saveEarly.sending}
            onClick={save.act}
          >
            {saveEarly.text}
          </button>
        )}
        {next ? (
          <button type="submit" class="button button-glove button-strong">
            {text.next}
          </button>
        ) : (
          <button
            type="button"
            class="button button-glove button-strong"
            disabled={!save.possible}
            onClick={save.act}
          >
            {save.text}
          </button>
        )}
      </div>
    </form>
  );
}
