import { createHash } from "node:crypto";
import type { Clock } from "../clock.ts";
import type { Logger } from "../log.ts";
import type { OutboxStore } from "../store/outbox-store.ts";
import { type Channel, DeliveryError, PartlyDelivered } from "./channels/channel.ts";
import { destinationOf, type OutboxRow } from "./outbox.ts";
import type { Way } from "./settings.ts";

/** Pause after the first failed attempt; it doubles up to the longest. */
const firstPauseS = 5;
const longestPauseS = 900;
const attemptTimeoutMs = 15_000;
/**
 * Attempts at the same time: in all, and to one destination. A destination that does not answer
 * holds its attempts for their whole time-out, so that it gets few, and high messages keep room
 * that no other can take.
 */
const atOnce = { all: 16, toOne: 4 };
const atOnceBelowHigh = { all: 8, toOne: 2 };
/** Messages looked at in one go. */
const lookAtMost = 200;
/** Pause after the store refused, s. */
const storePauseS = 5;
/** Looks again this often even if nothing was announced, s. */
const lookEveryS = 30;

/** Seconds to wait after attempt number `attempts`; spread by the row's id, so that not all come at once. */
export function pauseAfter(attempts: number, id: string): number {
  const pause = Math.min(longestPauseS, firstPauseS * 2 ** (attempts - 1));
  const spread = (createHash("sha256").update(id).digest()[0] ?? 0) / 255;
  return pause * (0.8 + 0.4 * spread);
}

/**
 * Brings what waits in the outbox to people: at least once. An attempt is noted in the store
 * before it is made; after a crash in between, the next one is marked as a repeat.
 */
export class Deliverer {
  readonly #outbox: OutboxStore;
  readonly #clock: Clock;
  readonly #log: Logger;
  readonly #channel: (kind: Way["kind"]) => Channel | null;
  readonly #heldUntil: (row: OutboxRow, nowS: number) => number | null;
  readonly #onSettled: () => void;
  readonly #underWay = new Map<string, { row: OutboxRow; ends: Promise<void> }>();
  #cancelTimer: () => void = () => undefined;
  #looking: Promise<void> = Promise.resolve();
  #stopped = true;
  readonly counts = { delivered: 0, retried: 0, failed: 0 };

  constructor(options: {
    outbox: OutboxStore;
    clock: Clock;
    log: Logger;
    /** Null where the settings do not provide for this way (no mail server, say). */
    channel: (kind: Way["kind"]) => Channel | null;
    /** When a message may go out that must not now, Unix s (quiet hours); null where it may. */
    heldUntil: (row: OutboxRow, nowS: number) => number | null;
    /** Called after each attempt. */
    onSettled: () => void;
  }) {
    this.#outbox = options.outbox;
    this.#clock = options.clock;
    this.#log = options.log;
    this.#channel = options.channel;
    this.#heldUntil = options.heldUntil;
    this.#onSettled = options.onSettled;
  }

  start(): void {
    this.#stopped = false;
    this.wake();
  }

  /** Something new may wait: looks at once. */
  wake(): void {
    if (this.#stopped) return;
    this.#looking = this.#looking
      .then(() => this.#look())
      .catch((error: unknown) => {
        this.#log.error({ error: String(error) }, "outbox not read");
        this.#again(lookEveryS);
      });
  }

  /** Waits for the attempts under way; what waits stays in the store. */
  async stop(): Promise<void> {
    this.#stopped = true;
    this.#cancelTimer();
    await this.#looking;
    await Promise.all([...this.#underWay.values()].map(({ ends }) => ends));
  }

  async #look(): Promise<void> {
    if (this.#stopped) return;
    const nowS = this.#clock.nowS();
    // Those under way still wait in the store.
    const toEach = atOnce.toOne * 2;
    for (const row of await this.#outbox.due(nowS, { toEach, inAll: lookAtMost })) {
      if (this.#underWay.has(row.id) || !this.#hasRoom(row)) continue;
      const ends = this.#attempt(row).then((noted) => {
        this.#underWay.delete(row.id);
        this.#onSettled();
        if (noted) this.wake();
        else this.#again(storePauseS);
      });
      this.#underWay.set(row.id, { row, ends });
    }
    // What is due and found no room is looked at again at the end of an attempt.
    const next = await this.#outbox.nextDue(nowS);
    if (next !== null) this.#again(Math.min(lookEveryS, Math.max(0.05, next - nowS)));
  }

  #hasRoom(row: OutboxRow): boolean {
    const isHigh = (one: OutboxRow) => one.message.priority === "high";
    const busy = [...this.#underWay.values()].map((one) => one.row);
    const limit = isHigh(row) ? atOnce : atOnceBelowHigh;
    const counted = isHigh(row) ? busy : busy.filter((one) => !isHigh(one));
    const destination = destinationOf(row);
    return (
      counted.length < limit.all &&
      counted.filter((one) => destinationOf(one) === destination).length < limit.toOne
    );
  }

  #again(delayS: number): void {
    this.#cancelTimer();
    if (!this.#stopped) this.#cancelTimer = this.#clock.after(delayS, () => this.wake());
  }

  /** False where the store did not take what came of it: the row is looked at again later. */
  async #attempt(row: OutboxRow): Promise<boolean> {
    try {
      const until = this.#heldUntil(row, this.#clock.nowS());
      if (until !== null) {
        await this.#outbox.postpone(row, until);
        return true;
      }
      if (row.expires <= this.#clock.nowS()) {
        await this.#outbox.failed(row.id, row.lastError ?? "its time was over");
        this.counts.failed++;
        return true;
      }
      await this.#outbox.begin(row.id, this.#clock.nowS());
      const error = await this.#send(row);
      if (error instanceof PartlyDelivered) {
        this.#log.warn({ id: row.id, error: error.message }, "message delivered in part");
        await this.#outbox.deliveredInPart(row.id, this.#clock.nowS(), this.#partsOf(row, error));
        this.counts.delivered++;
        this.counts.retried += error.left.length;
        return true;
      }
      if (error === null) {
        await this.#outbox.delivered(row.id, this.#clock.nowS());
        this.counts.delivered++;
        return true;
      }
      this.#log.warn(
        { id: row.id, way: row.way.kind, attempt: row.attempts + 1, error: error.message },
        "message not delivered",
      );
      if (error.outcome === "permanent") {
        await this.#outbox.failed(row.id, error.message);
        this.counts.failed++;
        return true;
      }
      const due = this.#clock.nowS() + pauseAfter(row.attempts + 1, row.id);
      const unknown = error.outcome === "unknown" || row.inFlight;
      await this.#outbox.retry(row.id, due, error.message, unknown);
      this.counts.retried++;
      return true;
    } catch (error) {
      this.#log.error({ id: row.id, error: String(error) }, "outbox not written");
      return false;
    }
  }

  /** What is left of a message goes on as if it had been stored by itself, and tried as often. */
  #partsOf(row: OutboxRow, { left }: PartlyDelivered): OutboxRow[] {
    const nowS = this.#clock.nowS();
    const attempts = row.attempts + 1;
    return left.map(({ part, way, error }) => {
      const id = `${row.id}~${part}`;
      return {
        ...row,
        id,
        way,
        due: nowS + pauseAfter(attempts, id),
        attempts,
        firstAttempt: row.firstAttempt ?? nowS,
        inFlight: error.outcome === "unknown" || row.inFlight,
        lastError: error.message,
      };
    });
  }

  async #send(row: OutboxRow): Promise<DeliveryError | PartlyDelivered | null> {
    const channel = this.#channel(row.way.kind);
    if (!channel) {
      return new DeliveryError("permanent", `the settings provide for no ${row.way.kind}`);
    }
    try {
      await channel.send(row, row.inFlight, attemptTimeoutMs);
      return null;
    } catch (error) {
      if (error instanceof DeliveryError || error instanceof PartlyDelivered) return error;
      return new DeliveryError("retry", error instanceof Error ? error.message : String(error));
    }
  }
}
