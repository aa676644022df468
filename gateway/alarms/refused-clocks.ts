import { nodeClockWrong } from "@leeward/shared-core/alarms/node-clock-wrong.ts";
import { type RefusedClock, withRefusedClock } from "@leeward/shared-core/alarms/refused-clock.ts";
import { siteSayUnits } from "@leeward/shared-core/alarms/wording.ts";
import type { SiteDocument, StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { ActiveAlarm } from "@leeward/shared-core/estimation/estimate.ts";
import { aheadKeptS } from "../ingest/node-registry.ts";
import type { OccurrenceView } from "./open-alarms.ts";

export interface RefusedClocksOptions {
  /** A node's clock where its packs are refused for their times; null where they are taken. */
  refused: (site: string, node: string, nowS: number) => RefusedClock | null;
  station: (id: string) => StationDocument | null;
  supplyNode: (site: string, supply: string) => string | null;
  siteDocument: (site: string) => SiteDocument | undefined;
}

interface Standing {
  clock: RefusedClock;
  /** When the node's packs came right again, Unix s; null while they do not. */
  rightS: number | null;
  /** It stood when the gateway last ran: it stands until then, for what was refused is not stored. */
  graceUntilS: number;
}

/**
 * Stations whose node is heard but refused for its clock. Nothing of such a node reaches the
 * estimator, so that the gateway itself says it, over the alarms of the station's latest line.
 */
export class RefusedClocks {
  readonly #options: RefusedClocksOptions;
  readonly #standing = new Map<string, Standing>();
  /** Stations of which the life cycle was last told that it stands. */
  readonly #told = new Set<string>();

  constructor(options: RefusedClocksOptions) {
    this.#options = options;
  }

  /** Takes up what stood when the gateway last ran. */
  load(open: readonly OccurrenceView[], nowS: number): void {
    for (const { site, station, condition, cleared, since, said } of open) {
      const of = said?.title.find(({ say }) => say === "node-clock-ahead")?.of;
      if (condition !== nodeClockWrong.condition || cleared !== null || !of) continue;
      const id = `${site}.${station}`;
      const clock = { aheadS: Number(of.s), since };
      this.#standing.set(id, { clock, rightS: null, graceUntilS: nowS + aheadKeptS });
      this.#told.add(id);
    }
  }

  /** A line came that is no silence: the node's packs are taken. */
  heard(id: string): void {
    const known = this.#standing.get(id);
    if (known) known.graceUntilS = 0;
  }

  /** The alarms that stand, given those of the station's latest line. */
  over(
    id: string,
    alarms: readonly ActiveAlarm[],
    nowS: number,
  ): ReturnType<typeof withRefusedClock> {
    const clock = this.#clockOf(id, nowS);
    const document = this.#options.station(id);
    if (clock === null || document === null) return { alarms: [...alarms], suppressed: [] };
    const site = this.#options.siteDocument(document.site);
    return withRefusedClock(alarms, clock, {
      units: siteSayUnits(document.flowDevice?.readingUnit, site?.units),
      language: site?.language ?? "en",
    });
  }

  /** Whether it stands now; `news` where the life cycle, which is told herewith, was told otherwise. */
  tell(id: string, nowS: number): { news: boolean } {
    const stands = this.#clockOf(id, nowS) !== null;
    const news = stands !== this.#told.has(id);
    if (stands) this.#told.add(id);
    else this.#told.delete(id);
    return { news };
  }

  #clockOf(id: string, nowS: number): RefusedClock | null {
    const refused = this.#refused(id, nowS);
    const known = this.#standing.get(id);
    if (refused !== null) {
      const clock = { ...refused, since: known?.clock.since ?? refused.since };
      this.#standing.set(id, { clock, rightS: null, graceUntilS: 0 });
      return clock;
    }
    if (!known) return null;
    if (nowS < known.graceUntilS) return known.clock;
    known.rightS ??= nowS;
    if (nowS - known.rightS < nodeClockWrong.offDelayS) return known.clock;
    this.#standing.delete(id);
    return null;
  }

  #refused(id: string, nowS: number): RefusedClock | null {
    const document = this.#options.station(id);
    if (document === null) return null;
    const { site, supply } = document;
    const node = document.node ?? (supply ? this.#options.supplyNode(site, supply) : null);
    return node == null ? null : this.#options.refused(site, node, nowS);
  }
}
