import type { LookBack as Report } from "@leeward/shared-core/api/look-back.ts";
import type { JobSpan } from "@leeward/shared-core/record/jobs.ts";
import { nowS, timeZone } from "../api/store.ts";
import { momentInFull, momentInWords } from "../display/durations.ts";
import { lookBackWords } from "../language/look-back-words.ts";
import { whoseGas } from "./whose-gas.ts";

/** Whose gas it was, who says so, and since when: told at the time, or claimed afterwards. */
export function JobLines({ report }: { report: Report }) {
  const text = lookBackWords.whose;
  const { jobs, more, unassigned, spells } = whoseGas(report);
  return (
    <div data-field="whose-gas">
      {jobs.map((job) => (
        <p key={job.from} data-job={job.job ?? job.welder ?? job.wps}>
          <strong>{nameOf(job)}</strong>, {timeOf(job)}, {saidOf(job)}
        </p>
      ))}
      {more > 0 && <p>{lookBackWords.events.more(more)}</p>}
      {jobs.length === 0 && <p>{text.nobody}</p>}
      {jobs.length > 0 && unassigned > 0 && <p>{text.unassigned(unassigned, spells)}</p>}
    </div>
  );
}

function nameOf({ job, welder, wps, gasless }: JobSpan): string {
  const text = lookBackWords.whose;
  return [
    job === null ? lookBackWords.unnamedJob : text.job(job),
    welder !== null && text.welder(welder),
    wps !== null && text.procedure(wps),
    gasless && text.gasless,
  ]
    .filter(Boolean)
    .join(", ");
}

function timeOf({ from, to }: JobSpan): string {
  const zone = timeZone.value;
  const moment = (t: number) => momentInWords(t, nowS.peek(), zone);
  return to === null
    ? lookBackWords.alarms.still(moment(from))
    : lookBackWords.alarms.span(moment(from), moment(to));
}

function saidOf({ claimedBy, claimedAt }: JobSpan): string {
  const text = lookBackWords.whose;
  if (claimedBy === undefined) return text.told;
  const when = claimedAt === undefined ? "" : momentInFull(claimedAt, timeZone.value);
  return claimedBy === "" ? text.claimedByNobody(when) : text.claimed(claimedBy, when);
}
