import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import { words } from "../language/words.ts";
import { momentInWords, secondsInWords } from "./durations.ts";
import { fixed } from "./numbers.ts";

export interface PurgeLine {
  text: string;
  /** Share done, 0 to 1; null where there is nothing to reach. */
  done: number | null;
}

/** How a declared purge stands: `6.1 volumes through; measure the oxygen before welding`. */
export function purgeLine(estimate: Estimate): PurgeLine | null {
  const purge = estimate.told?.purge;
  if (!purge) return null;
  const text = words.told;
  const passedS = Math.max(0, estimate.t - purge.since);
  const { volumesPassed, volumesWanted, minutes } = purge;
  if (volumesPassed !== null) {
    const passed = fixed(volumesPassed, 1);
    if (volumesWanted === null) return { text: text.purgeVolumes(passed), done: null };
    const wanted = fixed(volumesWanted, volumesWanted % 1 === 0 ? 0 : 1);
    return {
      text:
        volumesPassed < volumesWanted
          ? text.purgeVolumesOf(passed, wanted)
          : text.purgeVolumes(passed),
      done: Math.min(1, volumesPassed / volumesWanted),
    };
  }
  const time = secondsInWords(passedS);
  if (minutes === null) return { text: text.purgeFor(time), done: null };
  return {
    text: text.purgeMinutes(time, secondsInWords(minutes * 60)),
    done: Math.min(1, passedS / (minutes * 60)),
  };
}

/** The job that was begun, or that gas flows for none. */
export function jobLine(estimate: Estimate, nowS: number, zone: string): string | null {
  const job = estimate.told?.job;
  const text = words.told;
  if (!job) return estimate.mode === "flowing" ? text.unassigned : null;
  const name = job.gasless ? text.gasless : job.job === null ? text.jobNoNumber : text.job(job.job);
  return [
    name,
    job.wps,
    job.welder === null ? null : text.welder(job.welder),
    text.since(momentInWords(job.since, nowS, zone)),
  ]
    .filter(Boolean)
    .join(", ");
}
