import type { BenchTestDocument } from "@leeward/shared-core/bench/bench-test-document.ts";
import { cardContent, cardDate, tellCard } from "@leeward/shared-core/bench/card-content.ts";
import type { BenchResult } from "@leeward/shared-core/bench/fit-device.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { DASH, decimalSign } from "../display/numbers.ts";
import { stationHref } from "../display/route.ts";
import { benchWords as text } from "../language/bench-words.ts";
import { coreText } from "../language/core-words.ts";
import { language, locale } from "../language/live-words.ts";
import { Explained, HowButton } from "../shell/explain.tsx";
import { ProblemNote } from "../shell/problem-note.tsx";
import { fetchCard, saveFile } from "./bench-api.ts";

/** Drawn by the gateway, as on the station's label. */
function stationCode(id: string): string {
  return `api/v1/stations/${encodeURIComponent(id)}/code.svg?address=${encodeURIComponent(location.href)}`;
}

/** The dial card as it prints. */
export function CardView(props: {
  result: BenchResult;
  station: StationDocument;
  test: BenchTestDocument;
}) {
  const { result, station, test } = props;
  const [answer, setAnswer] = useState<Answer<Blob> | null>(null);
  const content = tellCard(
    cardContent({
      station,
      result,
      ...(test.serial === "" ? {} : { serial: test.serial }),
      ...(test.date === "" ? {} : { date: cardDate(test.date, locale.value) }),
      ...(test.meter === "" ? {} : { meter: test.meter }),
    }),
    coreText,
  );
  const pdf = async () => {
    const got = await fetchCard(test, new URL(stationHref(test.station), location.href).href, {
      language: language.peek(),
      decimal: decimalSign(),
    });
    setAnswer(got);
    if (got.ok) saveFile(got.value, "dial-card.pdf");
  };
  return (
    <section class="card bench-card dial-card">
      <div class="bench-head">
        <h2 class="card-title">{text.card}</h2>
        <HowButton
          about={text.card}
          figures={() => [
            { figure: "card-reading", label: content.readingHead },
            { figure: "card-within", label: content.withinHead },
          ]}
        />
      </div>
      <div class="dial-head">
        <div>
          <p class="dial-title">{content.title}</p>
          <p>
            {content.gas}. <strong>{content.target}</strong>
          </p>
        </div>
        <img
          class="dial-code"
          src={stationCode(test.station)}
          alt={text.code}
          width="112"
          height="112"
        />
      </div>
      {content.warning && <p class="caution">{content.warning}</p>}
      <table class="dial-table">
        <thead>
          <tr>
            <th scope="col">{content.cylinderHead}</th>
            <th scope="col">{content.readingHead}</th>
            <th scope="col">{content.withinHead}</th>
          </tr>
        </thead>
        <tbody>
          {content.lines.map((line) => (
            <tr key={line.cylinder}>
              <th scope="row">{line.cylinder}</th>
              <td>
                <Explained figure="card-reading" label={content.readingHead} inRow>
                  <strong>{line.reading ?? DASH}</strong>
                </Explained>
              </td>
              <td>
                <Explained figure="card-within" label={content.withinHead} inRow>
                  {line.interval}
                </Explained>{" "}
                <small>{line.remark}</small>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>
        <strong>{content.readAtText}</strong>
      </p>
      <ul class="quiet">
        {content.facts.map(([label, fact]) => (
          <li key={label}>
            {label}: {fact}
          </li>
        ))}
      </ul>
      <p>
        <strong>{content.voidText}</strong> {content.caution}
      </p>
      <div class="bench-buttons no-print">
        <button type="button" class="button button-glove" onClick={() => print()}>
          {text.print}
        </button>
        <button type="button" class="button button-glove" onClick={() => void pdf()}>
          {text.pdf}
        </button>
      </div>
      <ProblemNote answer={answer} />
    </section>
  );
}
