import type { Reason } from "./flow-window.ts";
import { materialFamily } from "./material.ts";
import { sourceText } from "./sources.ts";
import { purgeTargets } from "./tables.ts";

export interface PurgeRequest {
  /** Volume to purge, L; or bore and length of a pipe. */
  volumeL?: number;
  boreMm?: number;
  lengthM?: number;
  /** Oxygen wanted, ppm; from the material where absent. */
  oxygenPpm?: number;
  material?: string;
  /** Purge flow, `metric20` L/min, for the time. */
  flowLpm?: number;
}

export interface PurgePlan {
  volumeL: number;
  oxygenPpm: number;
  /** Times the volume, well mixed. */
  volumes: number;
  gasL: number;
  minutes: number | null;
  /** What people do by habit, volumes. */
  practiceVolumes: { low: number; high: number };
  reasons: Reason[];
  cautions: string[];
}

export type PurgeAnswer = { ok: true; value: PurgePlan } | { ok: false; why: string };

/**
 * Gas and time to purge a closed volume of air down to an oxygen content, as if well mixed at
 * every moment: volumes = ln(209 460 ppm / wanted). Real purges with dead ends need more.
 */
export function purgePlan(request: PurgeRequest): PurgeAnswer {
  const volumeL = request.volumeL ?? pipeLitres(request.boreMm, request.lengthM);
  if (volumeL === null || !(volumeL > 0) || !Number.isFinite(volumeL)) {
    return { ok: false, why: "give volumeL, or boreMm and lengthM, above zero" };
  }
  const reasons: Reason[] = [];
  const oxygenPpm = request.oxygenPpm ?? wantedFor(request.material, reasons);
  if (oxygenPpm === null) {
    return {
      ok: false,
      why: "give oxygenPpm: the material is neither a stainless steel nor titanium, for which it is known",
    };
  }
  const air = purgeTargets.airPpm.low;
  if (!(oxygenPpm > 0 && oxygenPpm < air)) {
    return { ok: false, why: `oxygenPpm is ${oxygenPpm}; it must lie between 0 and ${air}` };
  }
  if (request.flowLpm !== undefined && !(request.flowLpm > 0)) {
    return { ok: false, why: `flowLpm is ${request.flowLpm}; it must be above 0` };
  }
  const volumes = Math.log(air / oxygenPpm);
  const { low, high, source } = purgeTargets.practiceVolumes;
  reasons.push(
    {
      text: `${volumes.toFixed(2)} volumes to ${oxygenPpm} ppm (${sourceText("well-mixed")})`,
      source: "well-mixed",
    },
    { text: `${low} to ${high} volumes by habit (${sourceText(source)})`, source },
  );
  if (oxygenPpm > purgeTargets.limit.low) {
    reasons.push({
      text: `${oxygenPpm} ppm is above the limit of ${purgeTargets.limit.low} ppm (${sourceText(purgeTargets.limit.source)})`,
      source: purgeTargets.limit.source,
    });
  }
  return {
    ok: true,
    value: {
      volumeL,
      oxygenPpm,
      volumes,
      gasL: volumes * volumeL,
      minutes: request.flowLpm === undefined ? null : (volumes * volumeL) / request.flowLpm,
      practiceVolumes: { low, high },
      reasons,
      cautions: [
        "Measure the oxygen before welding; a time alone is no proof. Keep the purge on during the root and the next passes.",
        "Purge gas displaces air: nobody may enter a purged vessel, and a small room needs ventilation. Local rules come first.",
      ],
    },
  };
}

function pipeLitres(boreMm: number | undefined, lengthM: number | undefined): number | null {
  if (boreMm === undefined || lengthM === undefined) return null;
  return (Math.PI / 4) * (boreMm / 100) ** 2 * lengthM * 10;
}

function wantedFor(material: string | undefined, reasons: Reason[]): number | null {
  const family = materialFamily(material);
  if (family !== "stainless" && family !== "titanium") return null;
  const { low, high, source } = purgeTargets[family];
  reasons.push({
    text: `${family}: below ${low} to ${high} ppm oxygen; the stricter end is used (${sourceText(source)})`,
    source,
  });
  return low;
}
