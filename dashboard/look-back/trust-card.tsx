import type { LookBack as Report } from "@leeward/shared-core/api/look-back.ts";
import { stationOf, timeZone } from "../api/store.ts";
import { locale } from "../language/live-words.ts";
import { lookBackWords } from "../language/look-back-words.ts";
import { Explained } from "../shell/explain.tsx";
import { trusted } from "./trust.ts";
import { trustText } from "./trust-text.ts";

/** What the record rests on: sensors and flow device, and when each was last tested. */
export function TrustCard({ report }: { report: Report }) {
  const text = lookBackWords.trust;
  const station = stationOf(report.station)?.description;
  if (!station) return null;
  const rows = trusted(station, report.to, timeZone.value);
  // A day is kept as its first second by UTC.
  const dates = new Intl.DateTimeFormat(locale.value, { dateStyle: "medium", timeZone: "UTC" });
  const day = (unixS: number) => dates.format(unixS * 1000);
  return (
    <section class="card look-trust" aria-labelledby="trust-title" data-field="trust">
      <h3 id="trust-title">{text.title}</h3>
      {rows.length === 0 && <p>{text.nothing}</p>}
      <dl class="look-facts">
        {rows.map((row) => (
          <div key={row.part} data-part={row.part}>
            <dt>{text.parts[row.part]}</dt>
            <dd>
              <Explained figure="record-trust" label={text.parts[row.part]}>
                {trustText(row, text, day)}
              </Explained>
            </dd>
          </div>
        ))}
      </dl>
      <p class="quiet">{text.today}</p>
    </section>
  );
}
