import type { GatewayStore } from "../store/store.ts";

/**
 * Reckons the `stored` notice: every pack of a boot up to `through` is in the store.
 * Counting begins at the first pack seen of a boot. A node sends again from its oldest pack, so a
 * hole that has not been filled within ten minutes, while newer packs came, is a pack that the node
 * no longer has; it is passed over, lest the node keep its ring for ever.
 */
export const holePatienceS = 600;

interface BootCount {
  through: number;
  /** Numbers beyond a hole, rising. */
  beyond: number[];
  holeSinceS: number | null;
}

export class StoredThrough {
  readonly #store: GatewayStore;
  readonly #counts = new Map<string, BootCount>();

  constructor(store: GatewayStore) {
    this.#store = store;
  }

  /** Takes the numbers just stored of one boot and returns its `through`. */
  async note(
    owner: string,
    boot: number,
    seqs: readonly number[],
    receivedS: number,
  ): Promise<number> {
    const key = `${owner}|${boot}`;
    let count = this.#counts.get(key);
    if (!count) {
      // The first of this run: what earlier runs stored counts too, and these are in it.
      const stored = await this.#store.storedSequence(owner, boot, 0);
      const first = Math.min(...stored, ...seqs);
      count = { through: first, beyond: [...stored, ...seqs], holeSinceS: null };
      this.#counts.set(key, count);
      if (this.#counts.size > 4096) this.#counts.delete(this.#counts.keys().next().value ?? "");
    } else {
      count.beyond.push(...seqs);
    }
    count.beyond = [...new Set(count.beyond)].sort((a, b) => a - b);
    this.#advance(count);
    if (count.beyond.length === 0) {
      count.holeSinceS = null;
    } else if (count.holeSinceS === null) {
      count.holeSinceS = receivedS;
    } else if (receivedS - count.holeSinceS >= holePatienceS) {
      count.through = count.beyond[0]!;
      count.holeSinceS = null;
      this.#advance(count);
    }
    return count.through;
  }

  #advance(count: BootCount): void {
    let used = 0;
    for (const seq of count.beyond) {
      if (seq > count.through + 1) break;
      count.through = Math.max(count.through, seq);
      used++;
    }
    count.beyond.splice(0, used);
  }
}
