import type { RefusedClock } from "@leeward/shared-core/alarms/refused-clock.ts";
import { type MessageResult, refuse } from "@leeward/shared-core/messages/dead-letter-reasons.ts";
import type { NodeStatus } from "@leeward/shared-core/messages/node-messages.ts";
import type { PlacedReceipt } from "@leeward/shared-core/messages/pack-placer.ts";
import type { NodeRecord } from "../store/store.ts";

/** A board counts as speaking under its name for so long after its last message, s. */
const boardAliveS = 600;
/** So long a refusal for its clock is told of a node, s: an idle one sends a pack a minute. */
export const aheadKeptS = 600;
const aheadLimit = 1000;

/** What is known of each node: its board, its state, its latest values. */
export class NodeRegistry {
  readonly #nodes = new Map<string, NodeRecord>();
  readonly #changed = new Set<NodeRecord>();
  /** Nodes whose last pack was refused for its times: by how much, s, since when, and when last. */
  readonly #ahead = new Map<string, { aheadS: number; since: number; receivedS: number }>();

  load(records: readonly NodeRecord[]): void {
    for (const record of records) this.#nodes.set(`${record.site}/${record.node}`, record);
  }

  get(site: string, node: string): NodeRecord | null {
    return this.#nodes.get(`${site}/${node}`) ?? null;
  }

  all(): NodeRecord[] {
    return [...this.#nodes.values()];
  }

  /** Notes that a pack was refused because the node's clock runs ahead. */
  refusedAhead(site: string, node: string, aheadS: number, receivedS: number): void {
    const key = `${site}/${node}`;
    // Anybody may name a node in a topic: what is remembered stays bounded.
    if (!this.#ahead.has(key) && this.#ahead.size >= aheadLimit) return;
    const since = this.refusedClock(site, node, receivedS)?.since ?? receivedS;
    this.#ahead.set(key, { aheadS, since, receivedS });
  }

  /** How far a node's clock runs ahead and since when, by its latest pack; null where that was taken or is long past. */
  refusedClock(site: string, node: string, nowS: number): RefusedClock | null {
    const known = this.#ahead.get(`${site}/${node}`);
    if (!known || nowS - known.receivedS >= aheadKeptS) return null;
    return { aheadS: known.aheadS, since: known.since };
  }

  /** Refuses a board that speaks under the name of another that is alive. Error: `topic-claimed`. */
  checkBoard(
    site: string,
    node: string,
    hardware: string | null,
    receivedS: number,
  ): MessageResult<null> {
    const known = this.get(site, node);
    if (
      hardware !== null &&
      known?.hardware &&
      known.hardware !== hardware &&
      receivedS - known.lastReceived < boardAliveS
    ) {
      return refuse(
        "topic-claimed",
        "",
        `board ${hardware} speaks as ${site}/${node}, which is board ${known.hardware} and was heard ${Math.round(receivedS - known.lastReceived)} s ago`,
      );
    }
    return { ok: true, value: null };
  }

  /** Notes that a node was heard; returns the board it had before, where that has changed. */
  heard(
    site: string,
    node: string,
    hardware: string | null,
    boot: number | null,
    receivedS: number,
  ): { record: NodeRecord; boardBefore: string | null } {
    const record = this.#getOrAdd(site, node, receivedS);
    const boardBefore =
      hardware !== null && record.hardware !== null && record.hardware !== hardware
        ? record.hardware
        : null;
    record.hardware = hardware ?? record.hardware;
    record.boot = boot ?? record.boot;
    record.lastReceived = Math.max(record.lastReceived, receivedS);
    this.#changed.add(record);
    return { record, boardBefore };
  }

  /** Takes a status; returns true where the node's state changed. */
  status(site: string, node: string, status: NodeStatus, receivedS: number): boolean {
    const { record } = this.heard(site, node, null, status.boot ?? null, receivedS);
    const changed = record.state !== status.state;
    record.state = status.state;
    // A will says no more than that the node is gone: what it told before still holds.
    record.status =
      status.state === "offline" ? { ...record.status, state: "offline" } : { ...status };
    return changed;
  }

  /** Takes placed samples into the latest values; returns true where the node came back by them. */
  samples(receipt: PlacedReceipt): boolean {
    const { pack, site } = receipt;
    const record = this.#getOrAdd(site, pack.node, receipt.received);
    const newestBefore = record.lastSample ?? Number.NEGATIVE_INFINITY;
    for (const { channel, t, value } of pack.samples) {
      const [latestT] = record.latest[channel] ?? [Number.NEGATIVE_INFINITY];
      if (t >= latestT) record.latest[channel] = [t, value];
      if (record.lastSample === null || t > record.lastSample) record.lastSample = t;
    }
    this.#ahead.delete(`${site}/${pack.node}`);
    this.#changed.add(record);
    // Samples newer than a will override it; late ones do not.
    const cameBack = record.state !== "online" && (record.lastSample ?? 0) > newestBefore;
    if (cameBack) record.state = "online";
    return cameBack;
  }

  /** Records that changed since the last call. */
  takeChanged(): NodeRecord[] {
    const changed = [...this.#changed].map((record) => structuredClone(record));
    this.#changed.clear();
    return changed;
  }

  #getOrAdd(site: string, node: string, receivedS: number): NodeRecord {
    const key = `${site}/${node}`;
    let record = this.#nodes.get(key);
    if (!record) {
      record = {
        site,
        node,
        hardware: null,
        state: "unknown",
        boot: null,
        lastSample: null,
        lastReceived: receivedS,
        status: null,
        latest: {},
      };
      this.#nodes.set(key, record);
    }
    return record;
  }
}
