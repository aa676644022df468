import type { LookBack as Report } from "@leeward/shared-core/api/look-back.ts";
import { isNamed } from "@leeward/shared-core/record/claims.ts";
import { unclaimedSpells } from "./unclaimed-spells.ts";

/** Lines that leave room for the rest on one printed sheet. */
const MOST = 6;

/** Whose the gas of a record was: jobs that reach into it, and what belongs to none. */
export function whoseGas(report: Pick<Report, "record" | "jobs" | "from" | "to">) {
  const jobs = report.jobs.filter(
    (job) =>
      (isNamed(job) || job.wps !== null) &&
      job.from < report.to &&
      (job.to === null || job.to > report.from),
  );
  return {
    jobs: jobs.slice(0, MOST),
    more: Math.max(0, jobs.length - MOST),
    /** Gas-on spells of which, at least in part, nobody said whose they are; of so many in all. */
    unassigned: unclaimedSpells(report).length,
    spells: report.record.spells.length,
  };
}
