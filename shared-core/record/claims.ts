import type { JobSpan } from "./jobs.ts";

/** Gas that was given to a job or a welder afterwards, or taken from it again. Unix s. */
export interface Claim {
  from: number;
  to: number;
  job: string | null;
  welder: string | null;
  /** Who said so; null where nobody gave a name. */
  by: string | null;
  /** The newest claim on every part of this span is taken back; what it had hidden counts again. */
  release: boolean;
  /** When it was said, Unix s. */
  said?: number | undefined;
}

/**
 * Jobs as told at the time, with what was claimed afterwards where nobody had told a job.
 *
 * What was told by name at the time stands: a claim fills only what lies between, and jobs without
 * a name, whose procedure it keeps. A later claim counts before an earlier one; once it is taken
 * back, the earlier one counts again.
 *
 * @param told not overlapping, rising; `to` null while a job goes on
 * @param claims in the order in which they were said
 */
export function withClaims(told: readonly JobSpan[], claims: readonly Claim[]): JobSpan[] {
  let claimed = uppermost(standing(claims));
  claimed = without(claimed, told.filter(isNamed));
  const nameless = told.filter((one) => !isNamed(one));
  for (const one of nameless) {
    claimed = claimed.flatMap((claim) => [
      ...outside(claim, one),
      ...inside(claim, one).map((part) => ({ ...part, wps: part.wps ?? one.wps })),
    ]);
  }
  const left = without(nameless, claimed);
  return [...told.filter(isNamed), ...left, ...claimed].sort((a, b) => a.from - b.from);
}

/** Whether a job says whose gas it is; one that only sets a procedure does not. */
export function isNamed({ job, welder, gasless }: JobSpan): boolean {
  return job !== null || welder !== null || gasless;
}

/** Claims that were not taken back, in the order in which they were said; they may overlap. */
function standing(claims: readonly Claim[]): JobSpan[] {
  let layers: JobSpan[] = [];
  for (const { from, to, job, welder, by, release, said } of claims) {
    // The same said twice is one claim, and is taken back as one.
    layers = withoutTop(
      layers,
      { from, to },
      (one) => release || (one.job === job && one.welder === welder),
    );
    if (release) continue;
    layers.push({
      ...{ from, to, job, welder, wps: null, gasless: false, claimedBy: by ?? "" },
      ...(said === undefined ? {} : { claimedAt: said }),
    });
  }
  return layers;
}

/** Layers, oldest first, without what lies uppermost within a span, where `goes` says so of it. */
function withoutTop(
  layers: readonly JobSpan[],
  span: { from: number; to: number },
  goes: (layer: JobSpan) => boolean,
): JobSpan[] {
  let open: { from: number; to: number | null }[] = [span];
  const kept = layers.toReversed().map((layer) => {
    const left = goes(layer) ? without([layer], open) : [layer];
    open = without(open, [layer]);
    return left;
  });
  return kept.reverse().flat();
}

/** What is seen of layers, oldest first, where later ones hide earlier ones. */
function uppermost(layers: readonly JobSpan[]): JobSpan[] {
  return layers.flatMap((layer, i) => without([layer], layers.slice(i + 1)));
}

/** What of spans lies within none of the others. */
export function without<T extends Bounds>(spans: readonly T[], others: readonly Bounds[]): T[] {
  return others.reduce<T[]>(
    (rest, other) => rest.flatMap((one) => outside(one, other)),
    [...spans],
  );
}

type Bounds = Pick<JobSpan, "from" | "to">;

const endOf = ({ to }: Bounds): number => to ?? Number.POSITIVE_INFINITY;

/** What of a span lies before and after another. */
function outside<T extends Bounds>(span: T, other: Bounds): T[] {
  if (endOf(other) <= span.from || endOf(span) <= other.from) return [span];
  const parts: T[] = [];
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
