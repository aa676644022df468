import type { LedgerRow, Ledger as LedgerView } from "@leeward/shared-core/api/ledger.ts";
import { startOf, stepFrom } from "@leeward/shared-core/time/zone.ts";
import { useEffect, useState } from "preact/hooks";
import { type Answer, request } from "../api/client.ts";
import { nowS, orderedStations, shop, stationOf, timeZone } from "../api/store.ts";
import { momentInFull, secondsInWords, spanInFull } from "../display/durations.ts";
import { moneyText } from "../display/money.ts";
import { volumeText } from "../display/numbers.ts";
import type { Rest } from "../display/page-figures.ts";
import { lookBackHref } from "../display/route.ts";
import { ledgerWords as text } from "../language/ledger-words.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { Choice } from "../shell/choice.tsx";
import { Explained, HowButton } from "../shell/explain.tsx";
import { Header } from "../shell/header.tsx";
import { Nav } from "../shell/nav.tsx";
import { ProblemNote } from "../shell/problem-note.tsx";
import { SpanFields, type SpanText, spanOf, spanText } from "../shell/span-fields.tsx";
import { fullContentOf } from "../shell/view-state.ts";
import "../style/pages.css";
import "./ledger.css";
import { inventedNote } from "./invented.ts";
import { ledgerCsv, ledgerFileName } from "./ledger-csv.ts";
import { type RowFigure, rowFigures, verdictFigure } from "./row-figures.ts";

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
      <main id="content" class="ledger pages-explained" tabIndex={-1}>
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
  const [asOf, setAsOf] = useState(0);
  const chosen = spanOf(span, zone);
  useEffect(() => {
    if (!chosen) return;
    let stopped = false;
    setAnswer(null);
    const query = `from=${chosen.from}&to=${chosen.to}&by=${by}`;
    void request<LedgerView>(`sites/${site}/ledger?${query}`).then((found) => {
      if (stopped) return;
      setAsOf(nowS.peek());
      setAnswer(found);
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
      {answer?.ok && <Table ledger={answer.value} byJob={by === "job"} asOf={asOf} />}
    </>
  );
}

/** What a station's gas costs: the price of a fill, and what a full cylinder holds. */
function priceRests(id: string, currency: string | null): Rest[] {
  const view = stationOf(id);
  const price = view?.description.cylinder?.pricePerFill;
  if (!view || price === undefined) return [];
  const full = fullContentOf(view);
  return [
    [text.price, moneyText(price, currency)],
    ...(full === null ? [] : [[text.full, volumeText(full, units.peek())] as const]),
  ];
}

/** The cells of figures, each of which explains itself. */
function Cells({ figures }: { figures: readonly RowFigure[] }) {
  return (
    <>
      {figures.map((one) => (
        <td key={one.field} data-field={one.field} data-label={one.label}>
          <Explained {...one} rests={() => one.rests ?? []} inRow>
            {one.value}
          </Explained>
        </td>
      ))}
    </>
  );
}

function Table(props: { ledger: LedgerView; byJob: boolean; asOf: number }) {
  const { ledger, byJob, asOf } = props;
  const zone = timeZone.value;
  const unit = units.value;
  const rows = ledger.rows.filter((row) => row.gasOnS > 0 || row.noDataS < row.to - row.from);
  const sum = (of: (row: LedgerRow) => number) => rows.reduce((all, row) => all + of(row), 0);
  const cost = rows.some((row) => row.cost !== null) ? sum((row) => row.cost ?? 0) : null;
  // One that is not known makes the sum unknown: it is no zero.
  const lost = rows.some((row) => row.leakLitres === null)
    ? null
    : sum((row) => row.leakLitres ?? 0);
  const { currency } = ledger;
  const figuresOf = (row: LedgerRow) =>
    rowFigures(row, { currency, price: priceRests(row.station, currency), units: unit });
  const together = rowFigures(
    {
      starts: sum((row) => row.starts),
      gasOnS: sum((row) => row.gasOnS),
      litres: {
        mean: sum((row) => row.litres.mean),
        low: sum((row) => row.litres.low),
        high: sum((row) => row.litres.high),
      },
      leakLitres: lost,
      cost,
      mean: null,
    },
    { currency, price: [], units: unit },
  ).filter(({ field }) => field !== "flow");
  const isVirtual = (row: LedgerRow) => stationOf(row.station)?.virtual === true;
  const invented = inventedNote(rows.map(isVirtual), {
    all: words.state.virtualTitle,
    some: text.inventedSome(words.state.virtual),
  });
  const save = () => {
    const csv = ledgerCsv(ledger, (id) => stationOf(id)?.virtual ?? null);
    const url = URL.createObjectURL(new Blob([csv], { type: "text/csv" }));
    const link = document.createElement("a");
    link.href = url;
    link.download = ledgerFileName(ledger);
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
      <p data-field="head">
        {text.head(
          shop.value?.site.name ?? ledger.site,
          momentInFull(ledger.from, zone),
          momentInFull(ledger.to, zone),
          zone,
        )}
      </p>
      {invented !== null && (
        <p data-field="invented">
          <strong>{invented}</strong>
        </p>
      )}
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
              <td class="no-print" />
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={`${row.station} ${row.from}`} data-row={row.station}>
                <th scope="row">
                  {row.name}
                  {isVirtual(row) && (
                    <>
                      {" "}
                      <span class="tag">{words.state.virtual}</span>
                    </>
                  )}
                </th>
                <td class="ledger-when">
                  <a href={lookBackHref(row.station, row.from, row.to)}>
                    {spanInFull(row.from, row.to, zone)}
                  </a>
                </td>
                {byJob && (
                  <td data-label={text.job}>
                    {[row.job, row.welder, row.wps].filter(Boolean).join(", ") || text.unassigned}
                    {!row.job && !row.welder && row.gasOnS > 0 && (
                      <>
                        {" "}
                        <a class="no-print" href={lookBackHref(row.station, row.from, row.to)}>
                          {text.claim}
                        </a>
                      </>
                    )}
                  </td>
                )}
                <Cells figures={figuresOf(row)} />
                <td data-label={text.shielding}>
                  <Explained
                    {...verdictFigure(row)}
                    rests={() => verdictFigure(row).rests ?? []}
                    inRow
                  >
                    {text.verdicts[row.verdict]}
                  </Explained>
                  {row.noDataS > 0 && (
                    <small class="ledger-gap">{text.noData(secondsInWords(row.noDataS))}</small>
                  )}
                </td>
                <td class="no-print">
                  <HowButton
                    about={row.name}
                    figures={() => [...figuresOf(row), verdictFigure(row)]}
                  />
                </td>
              </tr>
            ))}
          </tbody>
          <tfoot>
            <tr>
              <th scope="row">{text.total}</th>
              <td />
              {byJob && <td />}
              <Cells figures={together} />
              <td />
              <td />
              <td class="no-print">
                <HowButton about={text.total} figures={() => together} />
              </td>
            </tr>
          </tfoot>
        </table>
      </section>
      {ledger.from < ledger.keptFrom && <p class="caution">{text.notKept}</p>}
      <p class="card-small">
        {text.foot(words.units.references[unit.reference])} {text.note}{" "}
        {text.asOf(momentInFull(asOf, zone))}
      </p>
    </section>
  );
}
