import type { ProcedureDocument } from "../documents/procedure.ts";
import type { SiteDocument, StationDocument, SupplyDocument } from "../documents/station.ts";
import type { Estimate } from "./estimate.ts";

/**
 * The one interface that replay, gateway and browser share: an engine a supply, with 1 to n drops.
 * Pure: its only time is what it is given. The same items in the same order give the same lines.
 */

/** One record of a SenML pack after RFC 8428 resolution: full channel name, time as sent. */
export interface PlacedSample {
  /** Record name without its base, such as `line-pressure` or `line-pressure/fault`. */
  channel: string;
  /** Unix seconds. */
  t: number;
  /** Number (Pa gauge, °C, kg, V), truth value (`arc`) or text (a fault word). */
  value: number | boolean | string;
}

/** A validated pack whose sample times are absolute. */
export interface PlacedPack {
  node: string;
  boot: number | null;
  seq: number | null;
  samples: PlacedSample[];
  thinned: boolean;
  /** Times were stamped at receipt because the node had no clock: say so and widen. */
  stampedAtReceipt: boolean;
}

/** What a person says; the same shape in replay files and in the HTTP API. */
export interface PersonEntry {
  /** What the float or gauge shows now, in the device's own unit. */
  reading?: number;
  /** A cylinder change: what is fitted now. An empty object means the same kind, full. */
  swap?: {
    filledBar?: number;
    filledC?: number;
    filledKg?: number;
    presentKg?: number;
    tareKg?: number;
    litres?: number;
    lot?: string;
    /** Serial number of the cylinder now fitted. */
    serial?: string;
  };
  /** Takes back the cylinder change that was told last, within half an hour of it. */
  undo?: "swap";
  /** A declared purge, by volumes of a pipe or vessel, oxygen wanted, or just minutes; `end` ends it. */
  purge?: {
    boreMm?: number;
    lengthM?: number;
    volumeL?: number;
    volumes?: number;
    oxygenPpm?: number;
    minutes?: number;
    end?: boolean;
  };
  /** A ten-minute leak test starts now, with the cylinder valve closed; `end` gives it up. */
  leakTest?: { regulator?: "open" | "shut"; end?: boolean };
  /** What is welded now. */
  job?: {
    procedure?: ProcedureDocument;
    /** True flow that this job wants, `metric20` L/min, whatever the procedure says. */
    targetLpm?: number;
    job?: string;
    welder?: string;
    plannedArcMinutes?: number;
    starts?: number;
    /** Stick, gouging, gasless wire: no gas is wanted until the job or the shift ends. */
    gasless?: boolean;
    end?: boolean;
  };
}

/** One thing received, in order of receipt. `station` is needed only where a supply has several drops. */
export type ReceivedItem =
  | { received: number; pack: PlacedPack }
  | { received: number; person: PersonEntry; station?: string }
  | {
      received: number;
      status: {
        node: string;
        state: "online" | "offline";
        boot: number | null;
        configError?: string;
      };
    }
  /** A new description valid from `received`; the engine keeps what still holds. */
  | { received: number; setup: SupplySetup };

/** Everything an engine needs to know about its supply: own cylinder = a supply of one drop. */
export interface SupplySetup {
  /** Null where the one station owns its cylinder. */
  supply: SupplyDocument | null;
  stations: StationDocument[];
  /** Node that reports the cylinder side: the supply's, else the station's. */
  timeZone?: string;
  /** Of the site: its units for texts, its shifts and planned power-off. */
  site?: Pick<SiteDocument, "units" | "calendar" | "language">;
}

export interface StationLine {
  station: string;
  estimate: Estimate;
}

export interface SupplyEngine {
  /**
   * Takes one item and returns the lines that it lets out, oldest first: the line for `t` (a multiple
   * of `every`) is written once a sample after `t`, or a `received`, passes it; up to a second earlier
   * where it is the first to say `arc-without-gas`, since a weld in air cannot wait. A late pack
   * refines what follows and rewrites nothing. Never throws on data.
   */
  receive(item: ReceivedItem): StationLine[];
  /** Lets time pass without an item (live only): writes the one `silent` line when it is due. */
  advance(nowS: number): StationLine[];
  /** State as a few kilobytes of JSON; `restoreSupplyEngine(text)` continues exactly. */
  serialise(): string;
}

/** Options of an engine. */
export interface EngineOptions {
  /** Seconds between lines. */
  every: number;
}
