import type { PersonEntry } from "../estimation/engine.ts";

/** What was welded when, as people said it. */
export interface JobSpan {
  from: number;
  /** Null while it goes on. */
  to: number | null;
  job: string | null;
  welder: string | null;
  /** Welding procedure specification, where the procedure named one. */
  wps: string | null;
  gasless: boolean;
  /** Who claimed it afterwards, empty where no name was given; left out where it was told at the time. */
  claimedBy?: string | undefined;
  /** When it was claimed, Unix s; left out where it was told at the time, or that is not known. */
  claimedAt?: number | undefined;
}

/**
 * Spans of jobs from what people said, rising in `t`. A job lasts until its end is said or the next
 * one begins. Entries that only set a procedure, without job or welder, are jobs without a name.
 */
export function jobSpans(
  entries: readonly { t: number; job: NonNullable<PersonEntry["job"]> }[],
): JobSpan[] {
  const spans: JobSpan[] = [];
  for (const { t, job } of entries) {
    const open = spans.at(-1);
    if (open && open.to === null) open.to = t;
    if (job.end === true) continue;
    spans.push({
      from: t,
      to: null,
      job: job.job ?? null,
      welder: job.welder ?? null,
      wps: job.procedure?.wps ?? null,
      gasless: job.gasless ?? false,
    });
  }
  return spans.filter((span) => span.to === null || span.to > span.from);
}
