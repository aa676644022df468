import type { LookBack as Report } from "@leeward/shared-core/api/look-back.ts";
import type { History } from "@leeward/shared-core/api/stations.ts";
import { nowS, stationOf, timeZone } from "../api/store.ts";
import { momentInFull, momentInWords, secondsInWords } from "../display/durations.ts";
import { fixed, volumeFigure, volumeText } from "../display/numbers.ts";
import { gasName } from "../display/weld-line.ts";
import { lookBackWords as text } from "../language/look-back-words.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { Explained, HowButton } from "../shell/explain.tsx";
import { ChartCard } from "./chart-card.tsx";
import { ClaimCard } from "./claim-card.tsx";
import { JobLines } from "./job-lines.tsx";
import { AlarmList, EventList } from "./lists.tsx";
import { TrustCard } from "./trust-card.tsx";
import {
  barFigures,
  barParts,
  nothingRecorded,
  type VerdictLine,
  verdictFigures,
  verdictLines,
} from "./verdict.ts";

/** The one sheet: verdict, flow against its window, what happened, what cannot be seen. */
export function Sheet(props: {
  report: Report;
  history: History | null;
  /** Something was claimed: the record is to be read again. */
  onClaimed: () => void;
}) {
  const { report, history, onClaimed } = props;
  const zone = timeZone.value;
  const now = nowS.peek();
  const { record, cylinder } = report;
  const moment = (t: number) => momentInWords(t, now, zone);
  const today = stationOf(report.station)?.description.cylinder;
  // The gas that held then; today's description counts only where it is the same.
  const gas =
    today && (cylinder.gas === null || cylinder.gas === today.gas)
      ? gasName(today.composition)
      : cylinder.gas;
  const { verdict } = record;
  return (
    <article class="look-sheet" data-verdict={verdict}>
      <header class="look-head">
        <div>
          <h2 class="look-title">{text.heading(report.name)}</h2>
          <p data-field="span">
            {text.span(momentInFull(report.from, zone), momentInFull(report.to, zone))} ({zone})
          </p>
          {stationOf(report.station)?.virtual && (
            <p data-field="invented">
              <strong>{words.state.virtualTitle}</strong>
            </p>
          )}
          <p class="quiet">
            {[
              gas && text.gasLine(gas),
              cylinder.serial && text.serial(cylinder.serial),
              cylinder.lot ? text.lot(cylinder.lot) : text.lotUnknown,
            ]
              .filter(Boolean)
              .join(", ")}
          </p>
          <JobLines report={report} />
        </div>
        <button type="button" class="button button-glove no-print" onClick={() => window.print()}>
          {text.print}
        </button>
      </header>
      <section
        class={`verdict look-verdict${verdict === "short" ? " verdict-no" : ""}`}
        data-field="verdict"
      >
        <Verdict report={report} lines={verdictLines(report, units.value, zone)} />
        <TimeBar report={report} />
      </section>
      <ChartCard report={report} history={history} />
      <div class="look-columns">
        <Figures report={report} />
        <EventList report={report} moment={moment} />
        <AlarmList report={report} moment={moment} />
      </div>
      <TrustCard report={report} />
      <ClaimCard report={report} moment={moment} onClaimed={onClaimed} />
      <section class="card look-blind" aria-labelledby="blind-title">
        <h3 id="blind-title">{text.blind.title}</h3>
        {verdict === "not-short" && <p>{text.blind.elsewhere}</p>}
        <ul class="causes">
          {text.blind.causes.map((cause) => (
            <li key={cause}>{cause}</li>
          ))}
        </ul>
      </section>
      <Foot />
    </article>
  );
}

/** What holds of the whole sheet, and when it was printed: it may have been open for hours. */
function Foot() {
  const reference = words.units.references[units.value.reference];
  return <p class="card-small">{text.foot(reference, momentInFull(nowS.value, timeZone.value))}</p>;
}

/** The verdict and its sentences; one button explains them all, a tap each of them. */
function Verdict({ report, lines }: { report: Report; lines: readonly VerdictLine[] }) {
  const verdict = text.verdict[report.record.verdict];
  const figures = () => verdictFigures(report, lines);
  return (
    <>
      <div class="look-verdict-head">
        <strong>
          <Explained
            figure="record-verdict"
            label={verdict}
            rests={() => figures()[0]?.rests ?? []}
            inRow
          >
            {verdict}
          </Explained>
        </strong>
        <HowButton about={report.name} figures={figures} />
      </div>
      {lines.map(({ figure, text: line }) => (
        <p key={line}>
          <Explained figure={figure} label={line} inRow>
            {line}
          </Explained>
        </p>
      ))}
    </>
  );
}

/** Of what the gas-on time was made, to scale, with words. */
function TimeBar({ report }: { report: Report }) {
  const parts = barParts(report);
  if (parts.length === 0) return null;
  return (
    <div class="time-bar">
      <div class="time-bar-track" aria-hidden="true">
        {parts.map(({ kind, seconds }) => (
          <span key={kind} class={`time-part time-${kind}`} style={{ flexGrow: seconds }} />
        ))}
      </div>
      <ul class="time-bar-names">
        {parts.map(({ kind, seconds }) => (
          <li key={kind}>
            <span class={`time-key time-${kind}`} aria-hidden="true" />
            <Explained figure={barFigures[kind]} label={text.bar[kind]} inRow>
              {text.bar[kind]} {secondsInWords(seconds)}
            </Explained>
          </li>
        ))}
      </ul>
    </div>
  );
}

function Figures({ report }: { report: Report }) {
  const { record, events, alarms } = report;
  const facts = text.facts;
  const unit = units.value;
  const count = (kind: string) => events.filter((event) => event.kind === kind).length;
  const unknown = nothingRecorded(report);
  const number = (n: number) => (n > 0 ? fixed(n, 0) : unknown ? "–" : facts.none);
  const { mean, low, high } = record.litres;
  const rows = [
    { figure: "record-starts", name: facts.starts, value: number(record.spells.length) },
    {
      figure: "record-gas-on",
      name: facts.gasOn,
      value: unknown ? "–" : secondsInWords(record.gasOnS),
    },
    {
      figure: "record-used",
      name: facts.used,
      value: unknown ? "–" : volumeText(mean, unit),
      note: mean > 0 ? facts.between(volumeFigure(low, unit), volumeText(high, unit)) : undefined,
    },
    { figure: "record-swaps", name: facts.swaps, value: number(count("swap")) },
    { figure: "record-re-dials", name: facts.reDials, value: number(count("re-dial")) },
    { figure: "record-alarms", name: facts.alarms, value: number(alarms.length) },
    {
      figure: "record-no-data",
      name: facts.gaps,
      value: record.noDataS > 0 ? secondsInWords(record.noDataS) : facts.none,
    },
  ] as const;
  return (
    <section class="card" aria-labelledby="facts-title">
      <h3 id="facts-title">{facts.title}</h3>
      <dl class="look-facts">
        {rows.map((row) => (
          <div key={row.figure}>
            <dt>{row.name}</dt>
            <dd>
              <Explained figure={row.figure} label={row.name}>
                {row.value}
              </Explained>
              {"note" in row && row.note && <small> {row.note}</small>}
            </dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
