import { findCondition } from "@leeward/shared-core/alarms/index.ts";
import type { NewOutboxRow } from "../notify/outbox.ts";
import { type OpenAlarms, placeOf, rankOf } from "./open-alarms.ts";
import type { PendingBatch } from "./pending-batch.ts";
import type { Occurrence } from "./states.ts";

/** An alarm that comes back within this time does not ring anew: its ring goes on, s. */
export const quietAfterRingS = 900;

export interface RingOptions {
  open: OpenAlarms;
  pending: PendingBatch;
  /**
   * Messages that an alarm sends, given when it rang: the same ring planned again has the same ids
   * and times.
   */
  plan: (occurrence: Occurrence, rangS: number, nowS: number) => NewOutboxRow[];
  /** Key of what a station draws from where others do too; null for a cylinder of its own. */
  supplyOf?: ((stationId: string) => string | null) | undefined;
}

/** When an alarm rings, when a ring goes on, and which of several drops of one supply it belongs to. */
export class Rings {
  readonly #options: RingOptions;

  constructor(options: RingOptions) {
    this.#options = options;
  }

  /**
   * Rings where that is due. What was taken back while the alarm was gone, or explained, is wanted
   * again at its old time; what was delivered is not sent twice.
   *
   * @param goesOn it stood all the while, explained by another: however long ago it rang, it does not ring anew
   */
  ring(occurrence: Occurrence, nowS: number, goesOn = false): void {
    const { open, pending, plan } = this.#options;
    if (occurrence.suppressedBy !== null || open.shelfOf(occurrence)) return;
    if (occurrence.state === "acknowledged") return;
    const others = this.#atOtherDrops(occurrence);
    if (others.some((other) => this.#stands(other))) return;
    const before = others
      .filter((other) => isRecent(other, nowS) && !open.shelfOf(other))
      .find((other) => (other.rang ?? 0) > (occurrence.rang ?? 0));
    if (before) this.#takeOver(before, occurrence, nowS);
    else if (occurrence.rang !== null && (goesOn || isRecent(occurrence, nowS))) {
      pending.send(plan(occurrence, occurrence.rang, nowS));
    } else {
      occurrence.rang = nowS;
      pending.occurrence(occurrence);
      pending.note(occurrence, "rang", nowS, nowS);
      pending.send(plan(occurrence, nowS, nowS));
    }
  }

  /** The one that came and went at this place and still has its ring; undefined where it sent nothing. */
  lately(
    part: { site: string; station: string | null; condition: string },
    nowS: number,
  ): Occurrence | undefined {
    const gone = this.#options.open.goneAt(part);
    if (!gone || gone.rang === null || !isRecent(gone, nowS)) return undefined;
    return this.#options.plan(gone, gone.rang, nowS).length > 0 ? gone : undefined;
  }

  /** A ring of the supply goes on at a drop that stands. */
  #takeOver(before: Occurrence, occurrence: Occurrence, nowS: number): void {
    const { pending, plan } = this.#options;
    const rang = before.rang ?? nowS;
    before.rang = null;
    occurrence.rang = rang;
    pending.occurrence(before);
    pending.occurrence(occurrence);
    pending.note(occurrence, "rang", nowS, nowS);
    pending.handOver(before.id, occurrence.id, plan(occurrence, rang, nowS));
  }

  /** Those that rang for the same at other drops of the supply, and that nobody has seen to since they went. */
  #atOtherDrops(occurrence: Occurrence): Occurrence[] {
    const { open, supplyOf } = this.#options;
    if (!supplyOf || occurrence.station === null) return [];
    if (findCondition(occurrence.condition)?.scope !== "supply") return [];
    const supply = supplyOf(placeOf(occurrence.site, occurrence.station));
    if (supply === null) return [];
    return [...open.all(), ...open.gone()].filter(
      (other) =>
        other !== occurrence &&
        other.condition === occurrence.condition &&
        other.rang !== null &&
        rankOf(other.priority) >= rankOf(occurrence.priority) &&
        (this.#stands(other) || other.acknowledged === null) &&
        other.station !== null &&
        supplyOf(placeOf(other.site, other.station)) === supply,
    );
  }

  /** Out of service, it says nothing of the supply; shelved, somebody knows. */
  #stands(other: Occurrence): boolean {
    const shelf = this.#options.open.shelfOf(other);
    return (
      other.cleared === null && other.suppressedBy === null && shelf?.kind !== "out-of-service"
    );
  }
}

function isRecent({ rang }: Occurrence, nowS: number): boolean {
  return rang !== null && nowS - rang < quietAfterRingS;
}
