import { type SiteDocument, siteSchema } from "@leeward/shared-core/documents/station.ts";
import type { Clock } from "../clock.ts";
import type { GatewayStore } from "../store/store.ts";

export interface SiteRecord {
  version: number;
  document: SiteDocument;
}

export type SiteSaveResult =
  | { ok: true; version: number }
  /** Another version stands than the one seen; 0: there is none. */
  | { ok: false; version: number };

const factKey = (site: string): string => `site:${site}`;

/** What is said of each shop: time zone, shifts, currency, units. The newest version counts. */
export class SiteDocuments {
  readonly #store: GatewayStore;
  readonly #known = new Map<string, SiteRecord>();
  readonly #assumed = new Map<string, SiteDocument>();
  #saving: Promise<unknown> = Promise.resolve();

  constructor(store: GatewayStore) {
    this.#store = store;
  }

  /** Reads the document of each of these sites. */
  async load(sites: readonly string[]): Promise<void> {
    for (const site of sites) {
      const text = await this.#store.fact(factKey(site));
      if (text === null || this.#known.has(site)) continue;
      const { version, document } = JSON.parse(text) as { version: number; document: unknown };
      this.#known.set(site, { version, document: siteSchema.parse(document) });
    }
  }

  get(site: string): SiteRecord | null {
    return this.#known.get(site) ?? null;
  }

  /** What counts while nothing is said of the site: the demo's prices have a currency, its texts units. */
  assume(document: SiteDocument): void {
    this.#assumed.set(document.site, document);
  }

  /** Currency of the site's prices; null where nobody has set one. */
  currencyOf(site: string): string | null {
    return this.forEngine(site)?.currency ?? null;
  }

  /** For an engine's set-up; undefined where nothing is said of the site. */
  forEngine(site: string): SiteDocument | undefined {
    return this.#known.get(site)?.document ?? this.#assumed.get(site);
  }

  /**
   * Stores a new version; what stood before is in the journal.
   * @param expected the version that the writer has seen; 0 for none
   */
  save(document: SiteDocument, expected: number, clock: Clock): Promise<SiteSaveResult> {
    const saved = this.#saving.then(async (): Promise<SiteSaveResult> => {
      const before = this.#known.get(document.site)?.version ?? 0;
      if (before !== expected) return { ok: false, version: before };
      const version = before + 1;
      const t = clock.nowS();
      await this.#store.write({
        facts: [{ key: factKey(document.site), value: JSON.stringify({ version, document }) }],
        journal: [
          {
            t,
            recorded: t,
            site: document.site,
            station: null,
            node: null,
            kind: "site-description",
            detail: { version, document },
          },
        ],
      });
      this.#known.set(document.site, { version, document });
      return { ok: true, version };
    });
    this.#saving = saved.catch(() => undefined);
    return saved;
  }
}
