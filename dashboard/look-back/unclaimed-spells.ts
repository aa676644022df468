import type { LookBack as Report } from "@leeward/shared-core/api/look-back.ts";
import { isNamed, without } from "@leeward/shared-core/record/claims.ts";

type Told = Pick<Report, "record" | "jobs">;

/** Unix s. */
export type ClaimSpan = { from: number; to: number };

/** Gas-on spells of which, at least in part, no job says whose they are. */
export function unclaimedSpells({ record, jobs }: Told) {
  const named = jobs.filter(isNamed);
  return record.spells.filter((spell) => without([spell], named).length > 0);
}

/**
 * Spans to claim so that spells without a job get one, and gas that was claimed keeps its own.
 *
 * @param spells rising, such as those of `unclaimedSpells`
 * @returns stretches from the first to the last of such spells between claimed gas, rising, Unix s
 */
export function unclaimedStretches(spells: readonly ClaimSpan[], jobs: Told["jobs"]): ClaimSpan[] {
  const named = jobs.filter(isNamed);
  const stretches: ClaimSpan[] = [];
  const parts = without(
    spells.map(({ from, to }) => ({ from, to })),
    named,
  );
  for (const part of parts) {
    const last = stretches.at(-1);
    if (last && clear({ from: last.from, to: part.to }, named)) last.to = part.to;
    else stretches.push({ ...part });
  }
  return stretches;
}

/** Whether no job reaches into a span. */
function clear(span: ClaimSpan, jobs: Told["jobs"]): boolean {
  return jobs.every((job) => job.from >= span.to || (job.to !== null && job.to <= span.from));
}
