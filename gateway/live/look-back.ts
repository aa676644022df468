import type { LookBack } from "@leeward/shared-core/api/look-back.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { PersonEntry } from "@leeward/shared-core/estimation/engine.ts";
import { type Claim, withClaims } from "@leeward/shared-core/record/claims.ts";
import { type JobSpan, jobSpans } from "@leeward/shared-core/record/jobs.ts";
import {
  type ShieldingRecord,
  type Span,
  shieldingRecord,
  type WindowFrom,
} from "@leeward/shared-core/record/shielding.ts";
import type { StoredMove } from "../rack/rack-store.ts";
import type { GatewayStore, JournalRecord } from "../store/store.ts";
import type { StationRecord } from "./directory.ts";

/** Entries of a station's journal that one page takes. */
const mostEvents = 5000;
/** A sample stands for at most so long: those before a span that still hold in it, s. */
const leadS = 40;

/** Kind of journal entry with which gas is given to a job afterwards; its detail is a `Claim`. */
export const CLAIMED = "gas-claimed";

/** Kinds of journal entries that make the story of a weld. */
const storyKinds = [
  ...[
    "swap",
    "re-dial",
    "regulator-replaced",
    "valve-closed",
    "valve-opened",
    "line-bled",
    "line-left-under-pressure",
  ],
  ...["sensor-fault", "sensor-ok", "gas-on", "gas-off", "arc-on", "arc-off"],
  ...["gasless-ended", "purge-ended"],
  ...[
    CLAIMED,
    "person-swap",
    "person-undo",
    "person-reading",
    "person-purge",
    "person-job",
    "person-leakTest",
    "description",
    "node-changed",
  ],
];

type Store = Pick<GatewayStore, "journal" | "flowSamples" | "alarms" | "descriptions" | "rack">;

/** Windows that held from `from` to `to`, the one that held at `from` first. */
export async function windowsOf(
  store: Pick<GatewayStore, "journal">,
  station: Pick<StationRecord, "site" | "station">,
  { from, to }: Span,
): Promise<WindowFrom[]> {
  const of = { site: station.site, station: station.station, kinds: ["demand"] };
  const before = await store.journal({ ...of, from: 0, to: from, limit: 1 });
  const during = await store.journal({ ...of, from, to, limit: mostEvents });
  const entries = [...before, ...during.filter(({ id }) => id !== before[0]?.id)];
  return entries
    .sort((a, b) => a.t - b.t)
    .map(({ t, detail }) => ({
      t,
      minimumLpm: numberOrNull(detail.minimumLpm),
      targetLpm: numberOrNull(detail.targetLpm),
      maximumLpm: numberOrNull(detail.maximumLpm),
    }));
}

function numberOrNull(value: unknown): number | null {
  return typeof value === "number" ? value : null;
}

/** Stretches during which the arc burned, from its events. */
function arcsOf(events: readonly JournalRecord[], to: number): Span[] {
  const arcs: Span[] = [];
  let since: number | null = null;
  for (const { t, kind } of events) {
    if (kind === "arc-on") since ??= t;
    if (kind !== "arc-off" || since === null) continue;
    arcs.push({ from: since, to: t });
    since = null;
  }
  if (since !== null) arcs.push({ from: since, to });
  return arcs;
}

/** What the record says of the gas from `from` to `to`, every second that is kept. */
export async function recordOf(
  store: Pick<GatewayStore, "journal" | "flowSamples">,
  station: StationRecord,
  span: Span,
): Promise<{ record: ShieldingRecord; windows: WindowFrom[] }> {
  const windows = await windowsOf(store, station, span);
  const samples = await store.flowSamples(`station:${station.id}`, span.from - leadS, span.to);
  const arcEvents = await store.journal({
    site: station.site,
    station: station.station,
    kinds: ["arc-on", "arc-off"],
    ...span,
    limit: mostEvents,
  });
  const arcs = arcsOf(arcEvents.reverse(), span.to);
  return { record: shieldingRecord({ ...span, samples, windows, arcs }), windows };
}

/** Jobs of a station that reach into a span, as told at the time, rising. */
export async function toldJobs(
  store: Pick<GatewayStore, "journal">,
  station: Pick<StationRecord, "site" | "station">,
  { from, to }: Span,
): Promise<JobSpan[]> {
  const of = { site: station.site, station: station.station, kinds: ["person-job"] };
  const before = await store.journal({ ...of, from: 0, to: from, limit: 1 });
  const during = await store.journal({ ...of, from, to, limit: mostEvents });
  const entries = [...before, ...during.filter(({ id }) => id !== before[0]?.id)]
    .sort((a, b) => a.t - b.t)
    .map(({ t, detail }) => ({ t, job: detail.job as NonNullable<PersonEntry["job"]> }));
  return jobSpans(entries).filter((job) => job.to === null || job.to > from);
}

/** Jobs of a station that reach into a span, with what was claimed afterwards, rising. */
export async function jobsOf(
  store: Pick<GatewayStore, "journal">,
  station: Pick<StationRecord, "site" | "station">,
  span: Span,
): Promise<JobSpan[]> {
  const told = await toldJobs(store, station, span);
  // A claim is said after what it is about.
  const said = await store.journal({
    ...{ site: station.site, station: station.station, kinds: [CLAIMED] },
    ...{ from: span.from, to: Number.MAX_SAFE_INTEGER, limit: mostEvents },
  });
  const claims = said
    .sort((a, b) => a.id - b.id)
    .map(({ t, detail }) => ({ ...(detail as unknown as Claim), said: t }))
    .filter((claim) => claim.from < span.to && claim.to > span.from);
  return withClaims(told, claims);
}

/** Everything that one page about the past of a station needs. */
export async function lookBack(
  store: Store,
  station: StationRecord,
  span: Span,
  keptFrom: number,
): Promise<LookBack> {
  const { site, station: name } = station;
  const { record, windows } = await recordOf(store, station, span);
  const events = await store.journal({
    site,
    station: name,
    kinds: storyKinds,
    ...span,
    limit: mostEvents,
  });
  const alarms = await store.alarms.occurrencesBetween(site, name, span.from, span.to);
  const versions = await versionsOf(store, station);
  return {
    station: station.id,
    name: station.document.name ?? name,
    ...span,
    keptFrom,
    record,
    windows,
    cylinder: await fittedAt(store, station, versions, span.from),
    events: events.reverse().map(({ t, kind, detail }) => ({
      t,
      kind,
      detail: kind === "person-reading" ? { ...detail, unit: unitAt(versions, t) } : detail,
    })),
    alarms: alarms.map(
      ({ id, condition, priority, title, said, since, cleared, acknowledgedBy }) => ({
        ...{ id, condition, priority, title, said, since, cleared, acknowledgedBy },
      }),
    ),
    jobs: await jobsOf(store, station, span),
  };
}

type Version = { validFrom: number; document: StationDocument };

/** Descriptions of a station, the oldest first. */
async function versionsOf(
  store: Pick<Store, "descriptions">,
  { site, station }: Pick<StationRecord, "site" | "station">,
): Promise<Version[]> {
  return (await store.descriptions())
    .filter((one) => one.kind === "station" && one.site === site && one.name === station)
    .map(({ validFrom, document }) => ({ validFrom, document: document as StationDocument }));
}

/** How a station was described at a moment; before its first description, by that one. */
function describedAt(versions: readonly Version[], t: number): StationDocument | undefined {
  return (versions.findLast((one) => one.validFrom <= t) ?? versions[0])?.document;
}

/** The unit that was printed on the flow device at a moment; null where none was described. */
function unitAt(versions: readonly Version[], t: number): string | null {
  return describedAt(versions, t)?.flowDevice?.readingUnit ?? null;
}

/** What hung on a station at a moment: by the rack, the last change told, its description then. */
async function fittedAt(
  store: Store,
  station: StationRecord,
  versions: readonly Version[],
  t: number,
): Promise<LookBack["cylinder"]> {
  const { site, station: name } = station;
  const described = describedAt(versions, t);
  const [swap] = await store.journal({
    site,
    station: name,
    kinds: ["person-swap", "swap"],
    from: 0,
    to: t,
    limit: 1,
  });
  const told = swap?.kind === "person-swap" ? (swap.detail.swap as PersonEntry["swap"]) : undefined;
  const racked = await rackedAt(store.rack, station, t);
  // A change that was seen after the last one told to the rack: what hangs there is not known.
  const known = racked && (!swap || swap.t <= racked.t) ? racked : null;
  return {
    gas: described?.cylinder?.gas ?? null,
    lot: known?.lot || (told?.lot ?? (swap ? null : (described?.cylinder?.lot ?? null))),
    serial: known?.serial ?? null,
    since: known?.t ?? swap?.t ?? null,
  };
}

/** The last cylinder told to the rack for a station; null where none was, or it was taken back. */
async function rackedAt(
  rack: Store["rack"],
  { id, site }: Pick<StationRecord, "id" | "site">,
  t: number,
): Promise<StoredMove | null> {
  const last = (await rack.moves(site, mostEvents)).find(
    (move) => move.station === id && move.t <= t && ["fitted", "undone"].includes(move.kind),
  );
  return last?.kind === "fitted" && last.cylinder !== null ? last : null;
}
