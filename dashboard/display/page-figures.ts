import type { ExplainedSource } from "./explain.ts";

/** Figures of Rack, Ledger, Look-back, Bench and Alarms that can be explained, each with its sources. */
export const pageFigures = {
  "rack-price": [],
  "rack-full": ["kunz-wagner-2012"],
  "rack-in-store": [],
  "rack-lasts": [],
  "rack-order-by": [],
  "rack-order": [],
  "record-verdict": ["jcgm-100-2008"],
  "record-starts": [],
  "record-gas-on": [],
  "record-used": ["kunz-wagner-2012", "jcgm-100-2008"],
  "record-mean": ["kunz-wagner-2012", "jcgm-100-2008"],
  "record-lowest": ["jcgm-100-2008"],
  "record-needed": [],
  "record-short": ["jcgm-100-2008"],
  "record-over": ["jcgm-100-2008"],
  "record-doubt": ["jcgm-100-2008"],
  "record-enough": ["jcgm-100-2008"],
  "record-edge": [],
  "record-no-window": [],
  "record-no-data": [],
  "record-trust": [],
  "record-arc": [],
  "record-lost": ["kunz-wagner-2012"],
  "record-cost": ["kunz-wagner-2012"],
  "record-swaps": ["kunz-wagner-2012"],
  "record-re-dials": [],
  "record-alarms": [],
  "fit-verdict": ["jcgm-100-2008"],
  "fit-residual": ["iso-9300-2022", "vdi-vde-3513"],
  "fit-parameter": ["jcgm-100-2008"],
  "fit-gain": ["jcgm-100-2008"],
  "card-reading": ["iso-9300-2022", "vdi-vde-3513"],
  "card-within": ["jcgm-100-2008"],
  "weld-window": [],
  "weld-factor": ["vdi-vde-3513", "iso-9300-2022", "kunz-wagner-2012"],
  "weld-dial": ["vdi-vde-3513", "iso-9300-2022"],
  "weld-time": [],
  "weld-exit": [],
  "weld-reynolds": ["lemmon-jacobsen-2004", "wilke-1950"],
  "cost-counted": [],
  "cost-start": ["kunz-wagner-2012"],
  "cost-year": [],
  "cost-money": [],
  "cost-saves": ["kunz-wagner-2012"],
  "cost-post-flow": [],
  "cost-second": [],
  "cost-break-even": [],
  "device-worst": ["jcgm-100-2008"],
  "device-left-alone": ["jcgm-100-2008"],
  "device-ends": [],
  "device-surge": [],
  "device-idle": [],
  "device-price": [],
  "alarms-rang": [],
  "alarms-standing": [],
  "alarms-mean": [],
  "alarms-most": [],
  "alarms-over-ten": [],
  "alarms-chattering": [],
  "alarms-stale": [],
  "alarms-high-share": [],
  "alarms-flood": [],
  "alarms-place": [],
} as const satisfies Record<string, readonly ExplainedSource[]>;

export type PageFigure = keyof typeof pageFigures;

/** A figure of a page with what it is called there and what it rests on, as of the tap. */
export interface AskedFigure {
  figure: PageFigure;
  label: string;
  /** Names and values from which it was made, with their units. */
  rests?: readonly Rest[] | undefined;
  /** Why it is not known. */
  why?: string | null | undefined;
}

export type Rest = readonly [name: string, value: string];
