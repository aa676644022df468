import { demandWindow } from "../demand/index.ts";
import type { PersonEntry } from "./engine.ts";
import type { DemandWindow } from "./estimate.ts";
import type { SupplyPlan } from "./plan.ts";
import type { EngineState } from "./supply-state.ts";

type Job = NonNullable<PersonEntry["job"]>;

/**
 * The plan with the demand that each drop has now: the declared job's own procedure or target, from
 * its declaration to its end; else the station's. A job that wants no gas leaves the station's.
 */
export function planWithJobs(plan: SupplyPlan, jobs: EngineState["jobs"]): SupplyPlan {
  const { supply } = plan.setup;
  const drops = plan.drops.map((drop, i) => {
    const { station } = drop;
    const composition = supply?.cylinder.composition ?? station.cylinder?.composition;
    const procedure = station.procedure ?? null;
    const job = jobs[i]?.entry ?? null;
    const own = job === null || job.gasless ? null : ownProcedure(job, procedure);
    const wanted = own ?? procedure;
    let demand: DemandWindow | null = null;
    if (wanted !== null) demand = demandWindow({ ...station, procedure: wanted }, composition);
    else if (job?.targetLpm !== undefined && !job.gasless) {
      demand = { minimumLpm: null, targetLpm: job.targetLpm, maximumLpm: null };
    }
    return { ...drop, demand };
  });
  return { ...plan, drops };
}

/** The job's procedure, with its target; a limit of the station's that contradicts it gives way. */
function ownProcedure(job: Job, station: Job["procedure"] | null): Job["procedure"] | null {
  const base = job.procedure ?? station;
  const target = job.targetLpm;
  if (target === undefined || !base) return job.procedure ?? null;
  const low = base.minimumLpm ?? null;
  const high = base.maximumLpm ?? null;
  return {
    ...base,
    minimumLpm: low !== null && low > target ? null : low,
    targetLpm: target,
    maximumLpm: high !== null && high < target ? null : high,
  };
}
