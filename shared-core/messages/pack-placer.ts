import type { PlacedPack } from "../estimation/engine.ts";
import type { SentPack } from "./sample-pack.ts";

/**
 * Places the relative times of packs from nodes whose clock is not set yet.
 *
 * With `uptime`, a boot's samples all hang together: once one absolute time of that boot is known,
 * every sample of it is exact, earlier ones too; so such packs are held for a short while. When no
 * absolute time comes, or the node gives no uptime, they are stamped by receipt and marked so.
 * Pure: its only time is the time of receipt. The same packs in the same order are placed the same.
 */

/** Longest time a pack waits for an absolute time of its boot: three announcements of the time. */
export const holdLimitS = 180;
/** Most packs held for one boot. */
const holdLimitPacks = 2000;
/** Boots remembered; beyond it the one heard longest ago is forgotten. */
const bootLimit = 512;

export interface PlacedReceipt {
  received: number;
  site: string;
  pack: PlacedPack;
}

interface HeldPack {
  received: number;
  pack: SentPack;
}

interface BootState {
  /** Unix time of uptime 0, from an absolute time; null until one came. */
  startS: number | null;
  /** Latest possible time of uptime 0, from receipts: a pack can only be late, never early. */
  latestStartS: number | null;
  /** No absolute time came within the hold: stamp at once from then on. */
  gaveUp: boolean;
  heardS: number;
  held: HeldPack[];
}

export class PackPlacer {
  #boots = new Map<string, BootState>();

  /**
   * Takes a pack received at `receivedS` (never falling) and returns what can be placed now, in the
   * order in which an engine should take it.
   */
  receive(receivedS: number, pack: SentPack): PlacedReceipt[] {
    const released = this.expire(receivedS);
    const boot = this.#bootOf(pack, receivedS);
    const uptime = pack.uptime;
    if (boot !== null && uptime !== null && !uptime.relative) {
      boot.startS = uptime.time - uptime.valueS;
      for (const held of boot.held) {
        released.push(placeFromStart(receivedS, held.pack, boot.startS, false));
      }
      boot.held = [];
    }
    if (!pack.samples.some((sample) => sample.relative)) {
      released.push(placed(receivedS, pack, (time) => time, false));
      return released;
    }
    if (boot === null || uptime === null || !uptime.relative) {
      released.push(stamp(receivedS, pack));
      return released;
    }
    if (boot.startS !== null) {
      released.push(placeFromStart(receivedS, pack, boot.startS, false));
      return released;
    }
    const start = receivedS - nowUptimeS(pack);
    boot.latestStartS = Math.min(boot.latestStartS ?? start, start);
    if (boot.gaveUp) {
      released.push(placeFromStart(receivedS, pack, boot.latestStartS, true));
      return released;
    }
    boot.held.push({ received: receivedS, pack });
    if (boot.held.length > holdLimitPacks) released.push(...giveUp(boot, receivedS));
    return released;
  }

  /** Lets time pass: packs that have waited too long come out, stamped, as received at their limit. */
  expire(nowS: number): PlacedReceipt[] {
    const due: { limitS: number; boot: BootState }[] = [];
    for (const boot of this.#boots.values()) {
      const first = boot.held[0];
      if (first && first.received + holdLimitS <= nowS) {
        due.push({ limitS: first.received + holdLimitS, boot });
      }
    }
    due.sort((a, b) => a.limitS - b.limitS);
    return due.flatMap(({ limitS, boot }) => giveUp(boot, limitS));
  }

  /** Packs that wait for a time. */
  get heldCount(): number {
    let count = 0;
    for (const boot of this.#boots.values()) count += boot.held.length;
    return count;
  }

  /** State as JSON text; `PackPlacer.restore` continues exactly. */
  serialise(): string {
    return JSON.stringify({ schema: 1, boots: [...this.#boots] });
  }

  /** Restores what `serialise` gave; throws where the text is not of its making. */
  static restore(text: string): PackPlacer {
    const state = JSON.parse(text) as { schema: number; boots: [string, BootState][] };
    if (state.schema !== 1) throw new Error(`placer state has schema ${state.schema}, not 1`);
    const placer = new PackPlacer();
    placer.#boots = new Map(state.boots);
    return placer;
  }

  #bootOf(pack: SentPack, receivedS: number): BootState | null {
    if (pack.boot === null) return null;
    const key = `${pack.hardware ?? `${pack.site}/${pack.node}`}|${pack.boot}`;
    let boot = this.#boots.get(key);
    if (boot) {
      this.#boots.delete(key);
    } else {
      boot = { startS: null, latestStartS: null, gaveUp: false, heardS: receivedS, held: [] };
      this.#forgetOldest();
    }
    boot.heardS = receivedS;
    this.#boots.set(key, boot);
    return boot;
  }

  /** The map keeps the order of last hearing; a boot with held packs is never forgotten. */
  #forgetOldest(): void {
    if (this.#boots.size < bootLimit) return;
    for (const [key, boot] of this.#boots) {
      if (boot.held.length === 0) {
        this.#boots.delete(key);
        return;
      }
    }
  }
}

/** Seconds since boot at the pack's "now", to which its relative times refer. */
function nowUptimeS(pack: SentPack): number {
  return pack.uptime!.valueS - pack.uptime!.time;
}

function giveUp(boot: BootState, receivedS: number): PlacedReceipt[] {
  const startS = boot.latestStartS!;
  const released = boot.held.map((held) => placeFromStart(receivedS, held.pack, startS, true));
  boot.held = [];
  boot.gaveUp = true;
  return released;
}

function placeFromStart(
  receivedS: number,
  pack: SentPack,
  startS: number,
  stamped: boolean,
): PlacedReceipt {
  const nowS = startS + nowUptimeS(pack);
  return placed(receivedS, pack, (time) => nowS + time, stamped);
}

/** Without uptime the newest sample counts as measured at receipt. */
function stamp(receivedS: number, pack: SentPack): PlacedReceipt {
  const newest = Math.max(0, ...pack.samples.filter((s) => s.relative).map((s) => s.time));
  return placed(receivedS, pack, (time) => receivedS + time - newest, true);
}

function placed(
  receivedS: number,
  pack: SentPack,
  toUnix: (relativeS: number) => number,
  stamped: boolean,
): PlacedReceipt {
  return {
    received: receivedS,
    site: pack.site,
    pack: {
      node: pack.node,
      boot: pack.boot,
      seq: pack.seq,
      samples: pack.samples.map((sample) => ({
        channel: sample.channel,
        // Milliseconds: finer than any node's clock, and free of the last bits of a sum.
        t: sample.relative ? Math.round(toUnix(sample.time) * 1000) / 1000 : sample.time,
        value: sample.value,
      })),
      thinned: pack.thinned,
      stampedAtReceipt: stamped,
    },
  };
}
