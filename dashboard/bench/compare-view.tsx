import type { BenchTestView } from "@leeward/shared-core/bench/bench-test-document.ts";
import { type ComparedDevice, recommend } from "@leeward/shared-core/bench/compare.ts";
import { BAR_PA } from "@leeward/shared-core/units/factors.ts";
import { useState } from "preact/hooks";
import { DASH, fixed, linePressureText, pressureText } from "../display/numbers.ts";
import type { AskedFigure } from "../display/page-figures.ts";
import { benchWords as text } from "../language/bench-words.ts";
import { coreText } from "../language/core-words.ts";
import { units } from "../settings/settings.ts";
import { Explained, HowButton } from "../shell/explain.tsx";
import { CurveKey, CurvePlot } from "./curve-plot.tsx";
import { Fold } from "./fold.tsx";
import { comparedTests } from "./tested-devices.ts";

/** Kept tests side by side, and what is best for which work. */
export function CompareView({ tests }: { tests: readonly BenchTestView[] }) {
  const [devices, setDevices] = useState<ComparedDevice[]>([]);
  return (
    <Fold title={text.compare} field="compare">
      {tests.length < 2 ? (
        <p>{text.compareNeed}</p>
      ) : (
        <div class="bench-buttons">
          <button
            type="button"
            class="button button-glove"
            onClick={() => setDevices(comparedTests(tests))}
          >
            {text.compareRun}
          </button>
        </div>
      )}
      {devices.length > 0 && (
        <>
          <CurveKey names={devices.map((one) => one.name)} />
          <div class="bench-curves">
            <CurvePlot devices={devices} figure="error" title={text.errorCurve} />
            <CurvePlot devices={devices} figure="leftAlone" title={text.leftCurve} />
          </div>
          <CompareTable devices={devices} />
          <ul class="bench-verdicts">
            {recommend(devices).map((one) => (
              <li key={one.work}>
                <strong>
                  {text.forWork[one.work]}: {one.device ?? text.none}.
                </strong>{" "}
                {one.reasons.map(coreText).join(". ")}.
              </li>
            ))}
          </ul>
        </>
      )}
    </Fold>
  );
}

function CompareTable({ devices }: { devices: readonly ComparedDevice[] }) {
  const chosen = units.value;
  const percent = (value: number | null) =>
    value === null ? DASH : `${value > 0 ? "+" : ""}${fixed(value, 1)} %`;
  const figures = (one: ComparedDevice): (AskedFigure & { value: string })[] => [
    { figure: "device-worst", label: text.worst, value: percent(one.worstErrorPercent) },
    { figure: "device-left-alone", label: text.lost, value: percent(one.leftAlonePercent) },
    {
      figure: "device-ends",
      label: text.left,
      value:
        one.endsAtBar === null ? text.toResidual : pressureText(one.endsAtBar * BAR_PA, chosen),
    },
    {
      figure: "device-surge",
      label: text.surge,
      value: one.surgePerHoseLitre === null ? DASH : `${fixed(one.surgePerHoseLitre, 2)} L`,
    },
    {
      figure: "device-idle",
      label: text.idle,
      value: one.idleBar === null ? DASH : linePressureText(one.idleBar * BAR_PA, chosen),
    },
    {
      figure: "device-price",
      label: text.cost,
      value: one.price === null ? DASH : fixed(one.price, 2),
    },
  ];
  const heads = [text.device, text.worst, text.lost, text.left, text.surge, text.idle, text.cost];
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a table that scrolls must be reachable by keyboard
    <section class="bench-scroll" tabIndex={0} aria-label={text.compare}>
      <table class="bench-compare">
        <thead>
          <tr>
            {heads.map((head) => (
              <th scope="col" key={head}>
                {head}
              </th>
            ))}
            <td />
          </tr>
        </thead>
        <tbody>
          {devices.map((one) => (
            <tr key={one.name}>
              <th scope="row">{one.name}</th>
              {figures(one).map(({ figure, label, value }) => (
                <td key={figure}>
                  <Explained figure={figure} label={label} inRow>
                    {value}
                  </Explained>
                </td>
              ))}
              <td>
                <HowButton about={one.name} figures={() => figures(one)} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
