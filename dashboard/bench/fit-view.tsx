import type { BenchResult } from "@leeward/shared-core/bench/fit-device.ts";
import { DASH, fixed } from "../display/numbers.ts";
import { benchWords as text } from "../language/bench-words.ts";
import { coreText } from "../language/core-words.ts";
import { ResidualPlot } from "./residual-plot.tsx";

function short(value: number): string {
  const size = Math.abs(value);
  return fixed(value, size >= 100 ? 0 : size >= 10 ? 1 : size >= 0.1 ? 2 : 4);
}

/** The verdict, what the rows say one by one, the parameters and what is left to ask. */
export function FitView({ result }: { result: BenchResult }) {
  const agrees = result.consistent === true;
  return (
    <section class="card bench-card" data-consistent={String(result.consistent)}>
      <h2 class="card-title">{text.result}</h2>
      <div class={agrees ? "verdict" : "verdict verdict-no"} role="status">
        <strong>{text.verdict[String(result.consistent) as "true" | "false" | "null"]}</strong>
        <p>{coreText(result.why)}</p>
      </div>
      <h3>{text.residuals}</h3>
      <ResidualPlot rows={result.rows} />
      <h3>{text.rowVerdicts}</h3>
      <ul class="bench-verdicts">
        {result.rows.map((row) => (
          <li key={row.row} data-status={row.status}>
            <strong>
              {text.row} {row.row}
            </strong>{" "}
            <span class="bench-residual">
              {row.residual === null
                ? DASH
                : `${row.residual > 0 ? "+" : ""}${fixed(row.residual, 1)} %`}
            </span>{" "}
            {coreText(row.verdict)}
          </li>
        ))}
      </ul>
      {result.questions.length > 0 && (
        <>
          <h3>{text.questions}</h3>
          <ul class="causes">
            {result.questions.map((question) => (
              <li key={question}>{coreText(question)}</li>
            ))}
          </ul>
        </>
      )}
      {result.parameters.length > 0 && (
        <>
          <h3>{text.parameters}</h3>
          <dl class="bench-parameters">
            {result.parameters.map((one) => (
              <div key={one.name}>
                <dt>
                  {coreText(one.name.replaceAll("-", " "))} <small>{coreText(one.about)}</small>
                </dt>
                <dd>
                  <strong>
                    {short(one.value)} {one.unit}
                  </strong>{" "}
                  ({short(one.low)} – {short(one.high)}), {text.from.toLowerCase()}{" "}
                  {one.from === "rows" ? text.fromRows : text.fromUsual}
                </dd>
              </div>
            ))}
          </dl>
        </>
      )}
    </section>
  );
}
