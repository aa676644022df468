import type { BenchTestView } from "@leeward/shared-core/bench/bench-test-document.ts";
import {
  type ComparedDevice,
  comparedDevice,
  recommend,
} from "@leeward/shared-core/bench/compare.ts";
import { parseBenchCsv } from "@leeward/shared-core/bench/csv-readings.ts";
import { fitDevice } from "@leeward/shared-core/bench/fit-device.ts";
import { useState } from "preact/hooks";
import { stations } from "../api/store.ts";
import { DASH, fixed } from "../display/numbers.ts";
import { benchWords as text } from "../language/bench-words.ts";

function compared(tests: readonly BenchTestView[]): ComparedDevice[] {
  return tests.flatMap(({ test }) => {
    const station = stations.value.get(test.station)?.description;
    const rows = station && parseBenchCsv(test.csv, station.cylinder?.composition ?? null);
    if (!station || !rows?.ok) return [];
    const target = test.targetLpm === null ? {} : { targetLpm: test.targetLpm };
    const answer = fitDevice(station, rows.value, target);
    if (!answer.ok) return [];
    const { name, restBar, flowingBar, price } = test;
    return [comparedDevice({ name, result: answer.value, restBar, flowingBar, price })];
  });
}

/** Kept tests side by side, and what is best for which work. */
export function CompareView({ tests }: { tests: readonly BenchTestView[] }) {
  const [devices, setDevices] = useState<ComparedDevice[]>([]);
  const unknown = (value: number | null, unit: string, decimals = 1) =>
    value === null ? DASH : `${fixed(value, decimals)} ${unit}`.trim();
  return (
    <section class="card bench-card no-print">
      <h2 class="card-title">{text.compare}</h2>
      {tests.length < 2 ? (
        <p>{text.compareNeed}</p>
      ) : (
        <div class="bench-buttons">
          <button
            type="button"
            class="button button-glove"
            onClick={() => setDevices(compared(tests))}
          >
            {text.compareRun}
          </button>
        </div>
      )}
      {devices.length > 0 && (
        <>
          {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a table that scrolls must be reachable by keyboard */}
          <section class="bench-scroll" tabIndex={0} aria-label={text.compare}>
            <table class="bench-compare">
              <thead>
                <tr>
                  {[text.device, text.worst, text.left, text.surge, text.idle, text.cost].map(
                    (head) => (
                      <th scope="col" key={head}>
                        {head}
                      </th>
                    ),
                  )}
                </tr>
              </thead>
              <tbody>
                {devices.map((one) => (
                  <tr key={one.name}>
                    <th scope="row">{one.name}</th>
                    <td>{unknown(one.worstDriftPercent, "%")}</td>
                    <td>
                      {one.endsAtBar === null ? text.toResidual : unknown(one.endsAtBar, "bar", 0)}
                    </td>
                    <td>{unknown(one.surgePerHoseLitre, "L", 2)}</td>
                    <td>{unknown(one.idleBar, "bar")}</td>
                    <td>{unknown(one.price, "", 2)}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </section>
          <ul class="bench-verdicts">
            {recommend(devices).map((one) => (
              <li key={one.work}>
                <strong>
                  {text.forWork[one.work]}: {one.device ?? text.none}.
                </strong>{" "}
                {one.reasons.join(". ")}.
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}
