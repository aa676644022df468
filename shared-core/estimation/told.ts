import type { DropState } from "./drop-state.ts";
import type { Estimate, ToldPurge } from "./estimate.ts";
import type { EngineState } from "./supply-state.ts";

type PurgeState = NonNullable<EngineState["purges"][number]>;

/** Oxygen in air, ppm by volume (dry air, 20.946 %; US Standard Atmosphere 1976). */
const AIR_OXYGEN_PPM = 209_460;

/** Volume that a purge is counted in, L: the vessel's, or the pipe's by bore and length. */
export function purgeVolumeL(entry: PurgeState["entry"]): number | null {
  const volumeL =
    entry.volumeL ??
    (entry.boreMm !== undefined && entry.lengthM !== undefined
      ? (Math.PI / 4) * (entry.boreMm / 100) ** 2 * (entry.lengthM * 10)
      : null);
  return volumeL === null || volumeL <= 0 ? null : volumeL;
}

/** Times the volume that a purge wants: as told, or well mixed down to the oxygen wanted. */
export function volumesWanted(entry: PurgeState["entry"]): number | null {
  if (entry.volumes !== undefined) return entry.volumes;
  return entry.oxygenPpm !== undefined && entry.oxygenPpm > 0
    ? Math.log(AIR_OXYGEN_PPM / entry.oxygenPpm)
    : null;
}

function purgeAsTold({ t, entry, usedL }: PurgeState): ToldPurge {
  const volumeL = purgeVolumeL(entry);
  return {
    since: t,
    volumesPassed: volumeL === null ? null : usedL / volumeL,
    volumesWanted: volumesWanted(entry),
    minutes: entry.minutes ?? null,
  };
}

/** Purge and job that stand for one drop; null where nobody has declared any. */
export function toldOf(state: EngineState, drop: number): NonNullable<Estimate["told"]> | null {
  const purge = state.purges[drop] ?? null;
  const job = state.jobs[drop] ?? null;
  if (purge === null && job === null) return null;
  return {
    purge: purge === null ? null : purgeAsTold(purge),
    job:
      job === null
        ? null
        : {
            since: job.t,
            job: job.entry.job ?? null,
            welder: job.entry.welder ?? null,
            wps: job.entry.procedure?.wps ?? null,
            gasless: job.entry.gasless === true,
          },
  };
}

/** Since when gas has been on or off at one drop, Unix s. */
export function gasSince(dropState: DropState): number | null {
  if (dropState.on === null) return null;
  return dropState.on ? dropState.onSince : dropState.offSince;
}
