import type { StationRecord } from "../live/directory.ts";
import type { GatewayStore } from "../store/store.ts";

/** How long a full cylinder of so much was seen to last at a station. */
interface Lasting {
  fullLitres: number;
  minutes: number;
}

/** A change below this share is not written down anew. */
const NEWS = 0.02;

const keyOf = ({ id }: Pick<StationRecord, "id">) => `rack-full-lasts:${id}`;

/**
 * How long a full cylinder lasts at each station, as it was last known: near the end of a cylinder
 * its last hours say nothing of days, and what it said before counts, after a restart too.
 */
export class FullLasts {
  readonly #store: Pick<GatewayStore, "fact" | "saveFact">;
  readonly #known = new Map<string, Lasting | null>();

  constructor(store: Pick<GatewayStore, "fact" | "saveFact">) {
    this.#store = store;
  }

  /**
   * Clock minutes, null where they were never known for a cylinder of this content.
   *
   * @param minutes as known now; null where nobody can say
   */
  async of(
    station: StationRecord,
    fullLitres: number | null,
    minutes: number | null,
  ): Promise<number | null> {
    if (fullLitres === null) return minutes;
    const before = await this.#before(station);
    const same = before?.fullLitres === fullLitres ? before : null;
    if (minutes === null) return same?.minutes ?? null;
    if (same && Math.abs(minutes - same.minutes) <= NEWS * same.minutes) return minutes;
    const next = { fullLitres, minutes };
    this.#known.set(station.id, next);
    // The invented habit of a virtual station must not outlive it.
    if (!station.document.virtual) {
      await this.#store.saveFact(keyOf(station), JSON.stringify(next));
    }
    return minutes;
  }

  async #before(station: StationRecord): Promise<Lasting | null> {
    const known = this.#known.get(station.id);
    if (known !== undefined) return known;
    const text = station.document.virtual ? null : await this.#store.fact(keyOf(station));
    const kept = text === null ? null : (JSON.parse(text) as Lasting);
    this.#known.set(station.id, kept);
    return kept;
  }
}
