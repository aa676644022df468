import type { BenchResult } from "@leeward/shared-core/bench/fit-device.ts";
import { DASH, fixed } from "../display/numbers.ts";
import type { AskedFigure } from "../display/page-figures.ts";
import { toInterval } from "../display/to-interval.ts";
import { benchWords as text } from "../language/bench-words.ts";
import { coreText } from "../language/core-words.ts";
import { Explained, HowButton } from "../shell/explain.tsx";
import { ResidualPlot } from "./residual-plot.tsx";

/** What a test's *how?* explains: its verdict, the rows' residuals and the parameters. */
function fitFigures(result: BenchResult): AskedFigure[] {
  return [
    {
      figure: "fit-verdict",
      label: text.verdict[String(result.consistent) as "true" | "false" | "null"],
      rests: [[text.rows, fixed(result.rows.length, 0)]],
    },
    { figure: "fit-residual", label: text.residuals },
    ...(result.parameters.length > 0
      ? [{ figure: "fit-parameter" as const, label: text.parameters }]
      : []),
  ];
}

/** The verdict, what the rows say one by one, the parameters and what is left to ask. */
export function FitView({ result }: { result: BenchResult }) {
  const agrees = result.consistent === true;
  return (
    <section class="card bench-card" data-consistent={String(result.consistent)}>
      <div class="bench-head">
        <h2 class="card-title">{text.result}</h2>
        <HowButton about={text.result} figures={() => fitFigures(result)} />
      </div>
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
              <Explained figure="fit-residual" label={`${text.row} ${row.row}`} inRow>
                {row.residual === null
                  ? DASH
                  : `${row.residual > 0 ? "+" : ""}${fixed(row.residual, 1)} %`}
              </Explained>
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
            {result.parameters.map((one) => {
              const [value, low, high] = toInterval(one.value, one.low, one.high);
              return (
                <div key={one.name} data-parameter={one.name}>
                  <dt>
                    {coreText(one.name.replaceAll("-", " "))} <small>{coreText(one.about)}</small>
                  </dt>
                  <dd>
                    <Explained
                      figure="fit-parameter"
                      label={coreText(one.name.replaceAll("-", " "))}
                      inRow
                    >
                      <strong>
                        {value} {one.unit}
                      </strong>{" "}
                      ({low} – {high})
                    </Explained>
                    , {text.from.toLowerCase()}{" "}
                    {one.from === "rows" ? text.fromRows : text.fromUsual}
                  </dd>
                </div>
              );
            })}
          </dl>
        </>
      )}
    </section>
  );
}
