/**
 * Rows and packs: measures go on four times a second, rows are taken at the pace that the moment
 * needs, and an edge brings along the ten seconds before it.
 */

import { type Clock, elapsedMs } from "./moment.ts";
import type { NodeConfig } from "./node-config.ts";
import { headText, isPackFull, type PackHead, rowBytes, rowsPerPack } from "./pack.ts";

/** Stands for a value that was not measured. */
export const nothing = -2000000000;

const historyRows = 12; // ten seconds, and a few rows of edges among them
const lingerMs = 10000;
// While an arc burns without gas each half second is told, four seconds long: by then a hose has filled.
const bareArcEveryMs = 500;
const bareArcTimes = 8;

/** One row: when, line and cylinder pressure (Pa), arc (1, 0, or `nothing`). */
export interface Row {
  s: number;
  ms: number;
  linePa: number;
  cylinderPa: number;
  arc: number;
}

// Rows that are kept lie one after the other in one list of numbers: a table each would cost five
// times the memory. 1000 more milliseconds mark a row that a pack holds already (in the history), or
// one that thinning keeps (in the pack being filled).
const rowFields = 5;
const markMs = 1000;

function storeRow(from: Row, list: number[], index: number): void {
  const at = index * rowFields;
  list[at] = from.s;
  list[at + 1] = from.ms;
  list[at + 2] = from.linePa;
  list[at + 3] = from.cylinderPa;
  list[at + 4] = from.arc;
}

function loadRow(list: readonly number[], index: number): Row {
  const at = index * rowFields;
  return {
    s: list[at],
    ms: list[at + 1],
    linePa: list[at + 2],
    cylinderPa: list[at + 3],
    arc: list[at + 4],
  };
}

export interface Sampler {
  /** The last rows, a second apart, a ring. */
  history: number[];
  historyNext: number;
  /** Rows of the pack being filled; the first `filled` count. */
  rows: number[];
  filled: number;
  /** Bytes at most of its rows, and of what it says once, as SenML. */
  bytes: number;
  headBytes: number;
  /** Last row that was taken, and last pack that was closed. */
  rowS: number;
  rowMs: number;
  packS: number;
  packMs: number;
  /** When the station was last busy. */
  busyS: number;
  busyMs: number;
  busy: boolean;
  /** An edge left an arc without gas: packs that follow to tell how it goes on, and when it last did. */
  bareArcLeft: number;
  bareArcS: number;
  bareArcMs: number;
  /** A wake of a node on a battery; undefined on the mains. */
  wake: Wake | undefined;
}

/** How far a wake has come: measured, due to send, nothing waiting since; see `battery.ts`. */
export interface Wake {
  measured: boolean;
  due: boolean;
  /** -1 while the connection is not up or something waits. */
  idleSinceS: number;
  asleep: boolean;
}

export function createSampler(): Sampler {
  const history: number[] = [];
  const rows: number[] = [];
  const empty: Row = { s: -1, ms: 0, linePa: nothing, cylinderPa: nothing, arc: nothing };
  for (let index = 0; index < historyRows; index++) storeRow(empty, history, index);
  for (let index = 0; index < rowsPerPack; index++) storeRow(empty, rows, index);
  return {
    history,
    historyNext: 0,
    rows,
    filled: 0,
    bytes: 0,
    headBytes: 0,
    rowS: -1000,
    rowMs: 0,
    packS: 0,
    packMs: 0,
    // The first ten seconds count as busy, so that a node that starts is seen at once.
    busyS: 0,
    busyMs: 0,
    busy: false,
    bareArcLeft: 0,
    bareArcS: 0,
    bareArcMs: 0,
    wake: undefined,
  };
}

/**
 * Remembers a row a second for the edges to come, and every row that was `taken` into a pack, so
 * that none is taken twice.
 */
export function remember(sampler: Sampler, row: Row, taken: boolean): void {
  const { history, historyNext } = sampler;
  const last = ((historyNext + historyRows - 1) % historyRows) * rowFields;
  const lastS = history[last];
  const lastMs = history[last + 1] % markMs;
  const sinceMs = lastS < 0 ? 1000 : elapsedMs(lastS, lastMs, row.s, row.ms);
  if (!taken && sinceMs < 950) return;
  storeRow(row, history, historyNext);
  if (taken) history[historyNext * rowFields + 1] += markMs;
  sampler.historyNext = (historyNext + 1) % historyRows;
}

/** Notes whether the station is busy now; it counts as busy for ten seconds more. */
export function noteBusy(sampler: Sampler, clock: Clock, busy: boolean): void {
  if (busy) {
    sampler.busyS = clock.uptimeS;
    sampler.busyMs = clock.uptimeMs;
  }
  sampler.busy =
    elapsedMs(sampler.busyS, sampler.busyMs, clock.uptimeS, clock.uptimeMs) <= lingerMs;
}

/** Notes at an edge whether it leaves an arc without gas. */
export function noteBareArc(sampler: Sampler, clock: Clock, bare: boolean): void {
  sampler.bareArcLeft = bare ? bareArcTimes : 0;
  sampler.bareArcS = clock.uptimeS;
  sampler.bareArcMs = clock.uptimeMs;
}

/** True at each half second of the four that follow an edge which left an arc without gas. */
export function bareArcDue(sampler: Sampler, clock: Clock): boolean {
  const { bareArcLeft, bareArcS, bareArcMs } = sampler;
  if (bareArcLeft === 0) return false;
  if (elapsedMs(bareArcS, bareArcMs, clock.uptimeS, clock.uptimeMs) < bareArcEveryMs) return false;
  sampler.bareArcLeft = bareArcLeft - 1;
  sampler.bareArcS = clock.uptimeS;
  sampler.bareArcMs = clock.uptimeMs;
  return true;
}

/** A row is due at this pace. Half a turn early counts, so that turns that come late do not drift. */
export function rowDue(sampler: Sampler, clock: Clock, config: NodeConfig): boolean {
  const idleS = config.line.fitted ? config.idleS : config.idleWithoutLineS;
  const everyS = sampler.busy ? config.flowingS : idleS;
  const sinceMs = elapsedMs(sampler.rowS, sampler.rowMs, clock.uptimeS, clock.uptimeMs);
  return sinceMs >= everyS * 1000 - 120;
}

/** The pack being filled takes no more rows. */
export function isFull(sampler: Sampler): boolean {
  return isPackFull(sampler.filled, sampler.bytes + sampler.headBytes);
}

/** A pack is due: its time has come, or it is full. While offline only fullness or a minute counts. */
export function packDue(
  sampler: Sampler,
  clock: Clock,
  config: NodeConfig,
  online: boolean,
): boolean {
  if (sampler.filled === 0) return false;
  if (isFull(sampler)) return true;
  const everyS = sampler.busy && online ? config.packFlowingS : config.packIdleS;
  const sinceMs = elapsedMs(sampler.packS, sampler.packMs, clock.uptimeS, clock.uptimeMs);
  return sinceMs >= everyS * 1000 - 120;
}

/** Adds a row; the caller closes a full pack first. `keep`: thinning leaves it. */
export function addRow(sampler: Sampler, row: Row, keep: boolean): void {
  const { rows, filled } = sampler;
  const arcSaid = filled > 0 ? rows[(filled - 1) * rowFields + 4] : nothing;
  storeRow(row, rows, filled);
  if (keep) rows[filled * rowFields + 1] += markMs;
  sampler.bytes += rowBytes(
    row.linePa !== nothing,
    row.cylinderPa !== nothing,
    row.arc !== arcSaid,
  );
  sampler.filled += 1;
  sampler.rowS = row.s;
  sampler.rowMs = row.ms;
}

/** Rows of the ten seconds before that no pack holds yet, oldest first, each given to `take`. */
export function replay(sampler: Sampler, now: Row, take: (row: Row) => void): void {
  const { history } = sampler;
  for (let index = 0; index < historyRows; index++) {
    const at = (sampler.historyNext + index) % historyRows;
    const row = loadRow(history, at);
    const fresh = row.s >= 0 && row.ms < markMs;
    if (fresh && elapsedMs(row.s, row.ms, now.s, now.ms) <= 10500) {
      history[at * rowFields + 1] += markMs;
      take(row);
    }
  }
}

function fieldOf(value: number): string {
  return value === nothing ? "" : string.format("%d", value);
}

/** Closes the pack being filled: its short form. `head` is filled but for the rows. */
export function closePack(sampler: Sampler, head: PackHead): string {
  const parts: string[] = [headText(head)];
  for (let index = 0; index < sampler.filled; index++) {
    const row = loadRow(sampler.rows, index);
    const kept = row.ms >= markMs;
    const dt = elapsedMs(row.s, row.ms % markMs, head.uptimeS, head.uptimeMs);
    parts.push(
      string.format(
        "%d,%s,%s,%s%s",
        dt,
        fieldOf(row.linePa),
        fieldOf(row.cylinderPa),
        fieldOf(row.arc),
        kept ? "!" : "",
      ),
    );
  }
  sampler.filled = 0;
  sampler.bytes = 0;
  sampler.packS = head.uptimeS;
  sampler.packMs = head.uptimeMs;
  return table.concat(parts, "|");
}
