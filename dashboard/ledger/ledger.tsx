import type { LedgerRow, Ledger as LedgerView } from "@leeward/shared-core/api/ledger.ts";
import { startOf, stepFrom } from "@leeward/shared-core/time/zone.ts";
import { useEffect, useState } from "preact/hooks";
import { type Answer, request } from "../api/client.ts";
import { nowS, orderedStations, timeZone } from "../api/store.ts";
import { momentInWords, secondsInWords } from "../display/durations.ts";
import { moneyText } from "../display/money.ts";
import { DASH, fixed, flowFigure, volumeText } from "../display/numbers.ts";
import { lookBackHref } from "../display/route.ts";
import { ledgerWords as text } from "../language/ledger-words.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { Choice } from "../shell/choice.tsx";
import { Header } from "../shell/header.tsx";
import { Nav } from "../shell/nav.tsx";
import { ProblemNote } from "../shell/problem-note.tsx";
import { SpanFields, type SpanText, spanOf, spanText } from "../shell/span-fields.tsx";
import "../style/pages.css";
import "./ledger.css";
import { ledgerCsv } from "./ledger-csv.ts";

type By = "day" | "week" | "month" | "job";

/** Use and cost of gas by station and day, week, month or job. */
export function Ledger() {
  const site = orderedStations.value[0]?.site ?? null;
  useEffect(() => {
    document.title = `${text.title} · ${words.productName}`;
    return () => {
      document.title = words.productName;
    };
  }, []);
  return (
    <>
      <Header>
        <span class="product">{words.productName}</span>
        <Nav here="ledger" />
      </Header>
      <main id="content" class="ledger" tabIndex={-1}>
        <h1 class="page-title">{text.title}</h1>
        {site === null ? <p class="empty">{text.none}</p> : <Picked site={site} />}
      </main>
    </>
  );
}

function Picked({ site }: { site: string }) {
  const zone = timeZone.value;
  const [by, setBy] = useState<By>("day");
  const [span, setSpan] = useState<SpanText>(() => {
    const now = nowS.peek();
    return spanText(stepFrom(startOf(now, "day", zone), "day", -1, zone), now, zone);
  });
  const [answer, setAnswer] = useState<Answer<LedgerView> | null>(null);
  const chosen = spanOf(span, zone);
  useEffect(() => {
    if (!chosen) return;
    let stopped = false;
    setAnswer(null);
    const query = `from=${chosen.from}&to=${chosen.to}&by=${by}`;
    void request<LedgerView>(`sites/${site}/ledger?${query}`).then((found) => {
      if (!stopped) setAnswer(found);
    });
    return () => {
      stopped = true;
    };
  }, [site, by, span.from, span.to]);
  return (
    <>
      <section class="card no-print ledger-pick">
        <p class="quiet">{text.intro}</p>
        <Choice
          label={text.by}
          name="ledger-by"
          value={by}
          options={(["day", "week", "month", "job"] as const).map((value) => ({
            value,
            text: text.periods[value],
          }))}
          onChange={setBy}
        />
        <SpanFields value={span} onChange={setSpan} />
        {!chosen && (
          <p class="problem" role="alert">
            {text.badSpan}
          </p>
        )}
      </section>
      {chosen && !answer && (
        <p class="empty" role="status">
          {text.fetching}
        </p>
      )}
      <ProblemNote answer={answer} />
      {answer?.ok && <Table ledger={answer.value} byJob={by === "job"} />}
    </>
  );
}

function Table({ ledger, byJob }: { ledger: LedgerView; byJob: boolean }) {
  const zone = timeZone.value;
  const unit = units.value;
  const moment = (t: number) => momentInWords(t, nowS.peek(), zone);
  const rows = ledger.rows.filter((row) => row.gasOnS > 0 || row.noDataS < row.to - row.from);
  const sum = (of: (row: LedgerRow) => number) => rows.reduce((all, row) => all + of(row), 0);
  const cost = rows.some((row) => row.cost !== null) ? sum((row) => row.cost ?? 0) : null;
  // One that is not known makes the sum unknown: it is no zero.
  const lost = rows.some((row) => row.leakLitres === null)
    ? null
    : sum((row) => row.leakLitres ?? 0);
  const volume = (litres: LedgerRow["litres"]) =>
    `${volumeText(litres.mean, unit)} (${volumeText(litres.low, unit)} – ${volumeText(litres.high, unit)})`;
  const save = () => {
    const url = URL.createObjectURL(new Blob([ledgerCsv(ledger)], { type: "text/csv" }));
    const link = document.createElement("a");
    link.href = url;
    link.download = "ledger.csv";
    link.click();
    URL.revokeObjectURL(url);
  };
  return (
    <section class="card ledger-card" data-field="ledger">
      <div class="ledger-buttons no-print">
        <button type="button" class="button button-glove" onClick={save}>
          {text.csv}
        </button>
        <button type="button" class="button button-glove" onClick={() => window.print()}>
          {text.print}
        </button>
      </div>
      <section class="scroll" aria-label={text.title} tabIndex={-1}>
        <table class="plain-table">
          <thead>
            <tr>
              <th scope="col">{text.station}</th>
              <th scope="col">{text.when}</th>
              {byJob && <th scope="col">{text.job}</th>}
              <th scope="col">{text.starts}</th>
              <th scope="col">{text.gasOn}</th>
              <th scope="col">{text.used}</th>
              <th scope="col">{text.lost}</th>
              <th scope="col">{text.cost}</th>
              <th scope="col">{text.flow}</th>
              <th scope="col">{text.shielding}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={`${row.station} ${row.from}`} data-row={row.station}>
                <th scope="row">{row.name}</th>
                <td>
                  <a href={lookBackHref(row.station, row.from, row.to)}>
                    {moment(row.from)} – {moment(row.to)}
                  </a>
                </td>
                {byJob && (
                  <td>
                    {[row.job, row.welder, row.wps].filter(Boolean).join(", ") || text.unassigned}
                    {!row.job && !row.welder && row.gasOnS > 0 && (
                      <>
                        {" "}
                        <a href={lookBackHref(row.station, row.from, row.to)}>{text.claim}</a>
                      </>
                    )}
                  </td>
                )}
                <td>{fixed(row.starts, 0)}</td>
                <td>{secondsInWords(row.gasOnS)}</td>
                <td data-field="used">{volume(row.litres)}</td>
                <td>{row.leakLitres === null ? DASH : volumeText(row.leakLitres, unit)}</td>
                <td>{row.cost === null ? DASH : moneyText(row.cost, ledger.currency)}</td>
                <td>
                  {row.mean
                    ? `${flowFigure(row.mean.lpm, unit)} ${unit.flow} (${flowFigure(row.mean.low, unit)} – ${flowFigure(row.mean.high, unit)})`
                    : DASH}
                </td>
                <td>
                  {text.verdicts[row.verdict]}
                  {row.noDataS > 0 && (
                    <small class="ledger-gap">{text.noData(secondsInWords(row.noDataS))}</small>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
          <tfoot>
            <tr>
              <th scope="row">{text.total}</th>
              <td />
              {byJob && <td />}
              <td>
                {fixed(
                  sum((row) => row.starts),
                  0,
                )}
              </td>
              <td>{secondsInWords(sum((row) => row.gasOnS))}</td>
              <td>
                {volume({
                  mean: sum((row) => row.litres.mean),
                  low: sum((row) => row.litres.low),
                  high: sum((row) => row.litres.high),
                })}
              </td>
              <td>{volumeText(lost, unit)}</td>
              <td>{cost === null ? DASH : moneyText(cost, ledger.currency)}</td>
              <td />
              <td />
            </tr>
          </tfoot>
        </table>
      </section>
      {ledger.from < ledger.keptFrom && <p class="caution">{text.notKept}</p>}
      <p class="card-small">{text.note}</p>
    </section>
  );
}
