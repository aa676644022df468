import type { LedgerRow } from "@leeward/shared-core/api/ledger.ts";
import type { CylinderDocument } from "@leeward/shared-core/documents/cylinder.ts";
import type { JobSpan } from "@leeward/shared-core/record/jobs.ts";
import type { Span } from "@leeward/shared-core/record/shielding.ts";
import { type Period, stepFrom } from "@leeward/shared-core/time/zone.ts";
import type { StationRecord } from "../live/directory.ts";
import { jobsOf, recordOf } from "../live/look-back.ts";
import { fullLitres } from "../rack/cylinder-snapshot.ts";
import type { GatewayStore } from "../store/store.ts";

export type LedgerBy = Period | "job";

type Store = Pick<GatewayStore, "journal" | "flowSamples" | "history">;

/** A span cut where local days, weeks or months begin. */
export function periodsOf({ from, to }: Span, period: Period, zone: string): Span[] {
  const spans: Span[] = [];
  let begin = from;
  while (begin < to) {
    const end = Math.min(to, stepFrom(begin, period, 1, zone));
    spans.push({ from: begin, to: end });
    begin = end;
  }
  return spans;
}

/** A span cut at its jobs; what lies between them belongs to none. */
export function jobParts(span: Span, jobs: readonly JobSpan[]): (Span & { job: JobSpan | null })[] {
  const parts: (Span & { job: JobSpan | null })[] = [];
  let begin = span.from;
  for (const job of jobs) {
    const from = Math.max(span.from, job.from);
    const to = Math.min(span.to, job.to ?? span.to);
    if (to <= from) continue;
    if (from > begin) parts.push({ from: begin, to: from, job: null });
    parts.push({ from, to, job });
    begin = to;
  }
  if (begin < span.to) parts.push({ from: begin, to: span.to, job: null });
  return parts;
}

/** Use, cost and shielding of one station over a span. */
export async function ledgerRows(
  store: Store,
  station: StationRecord,
  span: Span,
  by: LedgerBy,
  kept: { zone: string; rawFrom: number; minutesFrom: number },
): Promise<LedgerRow[]> {
  const parts =
    by === "job"
      ? jobParts(span, await jobsOf(store, station, span))
      : periodsOf(span, by, kept.zone).map((part) => ({ ...part, job: null }));
  const perLitre = pricePerLitre(station.document.cylinder ?? null);
  const rows: LedgerRow[] = [];
  for (const { from, to, job } of parts) {
    const { record } = await recordOf(store, station, { from, to });
    const leakLpm = await meanLeak(store, station, { from, to }, kept);
    const idleMinutes = Math.max(0, to - from - record.gasOnS - record.noDataS) / 60;
    rows.push({
      station: station.id,
      name: station.document.name ?? station.station,
      from,
      to,
      job: job === null ? null : (job.job ?? ""),
      welder: job?.welder ?? null,
      wps: job?.wps ?? null,
      starts: record.spells.length,
      gasOnS: record.gasOnS,
      litres: record.litres,
      leakLitres: leakLpm === null ? null : leakLpm * idleMinutes,
      cost: perLitre === null ? null : record.litres.mean * perLitre,
      verdict: record.verdict,
      shortS: record.shortS,
      noDataS: record.noDataS,
      mean: record.mean,
    });
  }
  return rows;
}

function pricePerLitre(cylinder: CylinderDocument | null): number | null {
  if (cylinder?.pricePerFill === undefined) return null;
  const litres = fullLitres({
    ...{ serial: "-", lot: "", supplier: "", gas: cylinder.gas },
    ...{ composition: cylinder.composition, waterVolumeL: cylinder.waterVolumeL * cylinder.count },
    ...("filledKg" in cylinder
      ? { filledKg: cylinder.filledKg as number }
      : { filledBar: cylinder.filledBar as number, filledC: cylinder.filledC as number }),
  });
  return litres === null ? null : cylinder.pricePerFill / litres;
}

async function meanLeak(
  store: Store,
  station: StationRecord,
  span: Span,
  kept: { rawFrom: number; minutesFrom: number },
): Promise<number | null> {
  const parts = [{ owner: `station:${station.id}`, ...span }];
  const { series } = await store.history({
    ...span,
    ...kept,
    points: 24,
    series: [{ name: "leak", parts }],
    presence: { parts: [], silenceS: 60 },
  });
  const means = series.get("leak")?.mean ?? [];
  return means.length === 0 ? null : means.reduce((sum, one) => sum + one, 0) / means.length;
}
