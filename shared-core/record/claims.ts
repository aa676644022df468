import type { JobSpan } from "./jobs.ts";

/** Gas that was given to a job or a welder afterwards, or taken from it again. Unix s. */
export interface Claim {
  from: number;
  to: number;
  job: string | null;
  welder: string | null;
  /** Who said so; null where nobody gave a name. */
  by: string | null;
  /** The claims on this span are taken back. */
  release: boolean;
}

/**
 * Jobs as told at the time, with what was claimed afterwards where nobody had told a job.
 *
 * What was told by name at the time stands: a claim fills only what lies between, and jobs without
 * a name, whose procedure it keeps. A later claim counts before an earlier one.
 *
 * @param told not overlapping, rising; `to` null while a job goes on
 * @param claims in the order in which they were said
 */
export function withClaims(told: readonly JobSpan[], claims: readonly Claim[]): JobSpan[] {
  let claimed: JobSpan[] = [];
  for (const { from, to, job, welder, by, release } of claims) {
    claimed = claimed.flatMap((one) => outside(one, { from, to }));
    if (release) continue;
    claimed.push({ from, to, job, welder, wps: null, gasless: false, claimedBy: by ?? "" });
  }
  for (const one of told.filter(isNamed)) {
    claimed = claimed.flatMap((claim) => outside(claim, one));
  }
  const nameless = told.filter((one) => !isNamed(one));
  for (const one of nameless) {
    claimed = claimed.flatMap((claim) => [
      ...outside(claim, one),
      ...inside(claim, one).map((part) => ({ ...part, wps: part.wps ?? one.wps })),
    ]);
  }
  const left = claimed.reduce<JobSpan[]>(
    (rest, claim) => rest.flatMap((one) => outside(one, claim)),
    nameless,
  );
  return [...told.filter(isNamed), ...left, ...claimed].sort((a, b) => a.from - b.from);
}

/** Whether a job says whose gas it is; one that only sets a procedure does not. */
export function isNamed({ job, welder, gasless }: JobSpan): boolean {
  return job !== null || welder !== null || gasless;
}

type Bounds = Pick<JobSpan, "from" | "to">;

const endOf = ({ to }: Bounds): number => to ?? Number.POSITIVE_INFINITY;

/** What of a span lies before and after another. */
function outside(span: JobSpan, other: Bounds): JobSpan[] {
  if (endOf(other) <= span.from || endOf(span) <= other.from) return [span];
  const parts: JobSpan[] = [];
  if (span.from < other.from) parts.push({ ...span, to: other.from });
  if (endOf(other) < endOf(span)) parts.push({ ...span, from: endOf(other) });
  return parts;
}

/** What of a span lies within another. */
function inside(span: JobSpan, other: Bounds): JobSpan[] {
  const from = Math.max(span.from, other.from);
  const end = Math.min(endOf(span), endOf(other));
  if (end <= from) return [];
  return [{ ...span, from, to: Number.isFinite(end) ? end : null }];
}
