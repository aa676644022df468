import type { DropState } from "./drop-state.ts";
import type { Estimate, ToldPurge } from "./estimate.ts";
import type { EngineState } from "./supply-state.ts";

type PurgeState = NonNullable<EngineState["purges"][number]>;

/** Oxygen in air, ppm by volume (dry air, 20.946 %; US Standard Atmosphere 1976). */
export const AIR_OXYGEN_PPM = 209_460;

/** Volume that a purge is counted in, L: the vessel's, or the pipe's by bore and length. */
export function purgeVolumeL(entry: PurgeState["entry"]): number | null {
  const volumeL =
    entry.volumeL ??
    (entry.boreMm !== undefined && entry.lengthM !== undefined
      ? (Math.PI / 4) * (entry.boreMm / 100) ** 2 * (entry.lengthM * 10)
      : null);
  return volumeL === null || volumeL <= 0 ? null : volumeL;
}

/**
 * Times the volume that a purge wants: as told, or well mixed from air down to the oxygen wanted.
 *
 * @param oxygenShare mole fraction of oxygen in the purging gas
 * @returns null where nothing was told, or where this gas never gets there
 */
export function volumesWanted(entry: PurgeState["entry"], oxygenShare: number): number | null {
  if (entry.volumes !== undefined) return entry.volumes;
  if (entry.oxygenPpm === undefined) return null;
  const gasPpm = oxygenShare * 1e6;
  if (!(entry.oxygenPpm > gasPpm && entry.oxygenPpm < AIR_OXYGEN_PPM)) return null;
  return Math.log((AIR_OXYGEN_PPM - gasPpm) / (entry.oxygenPpm - gasPpm));
}

/** Gas-on seconds that the aim of a purge takes in all at its mean flow; null where it has none that can be counted. */
export function purgeAimS(of: {
  minutes: number | null;
  volumesWanted: number | null;
  volumesPassed: number | null;
  onS: number;
}): number | null {
  const byTime = of.minutes === null ? null : of.minutes * 60;
  if (of.volumesWanted === null || of.volumesPassed === null) return byTime;
  const byVolumes =
    of.volumesPassed > 0
      ? (of.onS * of.volumesWanted) / of.volumesPassed
      : Number.POSITIVE_INFINITY;
  return Math.max(byTime ?? 0, byVolumes);
}

/** Gas-on seconds after which a purge counts as forgotten: twice its aim, and 30 min more than it at least. */
export function purgeLateS(aimS: number): number {
  return Math.max(2 * aimS, aimS + 1800);
}

function purgeAsTold({ t, entry, usedL }: PurgeState, oxygenShare: number): ToldPurge {
  const volumeL = purgeVolumeL(entry);
  return {
    since: t,
    volumesPassed: volumeL === null ? null : usedL / volumeL,
    volumesWanted: volumesWanted(entry, oxygenShare),
    minutes: entry.minutes ?? null,
  };
}

/**
 * Purge and job that stand for one drop; null where nobody has declared any.
 *
 * @param oxygenShare mole fraction of oxygen in the gas
 */
export function toldOf(
  state: EngineState,
  drop: number,
  oxygenShare: number,
): NonNullable<Estimate["told"]> | null {
  const purge = state.purges[drop] ?? null;
  const job = state.jobs[drop] ?? null;
  if (purge === null && job === null) return null;
  return {
    purge: purge === null ? null : purgeAsTold(purge, oxygenShare),
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
