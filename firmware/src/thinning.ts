/**
 * Making room in a full ring: neighbouring packs lose every second row (the rows of an edge last)
 * and become one. Oldest first; when all have been halved, the oldest are halved again.
 */
import { joinPacks, thinPack } from "./pack.ts";
import {
  bytesOf,
  closeSegment,
  lineOf,
  readSegment,
  type Segments,
  segmentBytes,
  segmentName,
} from "./segments.ts";

/** The packs in memory that thinning may touch. */
interface Memory {
  memory: string[];
  memoryTotal: number;
  memoryThinNext: number;
}

function halvePair(earlier: string, later: string): string[] {
  const first = thinPack(earlier);
  const second = thinPack(later);
  const joined = joinPacks(first, second);
  return joined === undefined ? [first, second] : [joined];
}

/** Thins two neighbours in memory; true where that made them shorter. */
function thinInMemory(ring: Memory, at: number): boolean {
  const { memory } = ring;
  const before = memory[at].length + memory[at + 1].length;
  const thinned = halvePair(memory[at], memory[at + 1]);
  let after = 0;
  for (const pack of thinned) after += pack.length;
  if (after >= before) return false;
  memory[at] = thinned[0];
  if (thinned.length === 1) table.remove(memory, at + 2);
  else memory[at + 1] = thinned[1];
  ring.memoryTotal += after - before;
  return true;
}

/**
 * Makes the packs in memory shorter by one step, behind the one that may have been sent; drops the
 * oldest of them where nothing else helps.
 */
export function makeRoomInMemory(ring: Memory): void {
  const { memory } = ring;
  for (let attempt = 0; attempt < memory.length; attempt++) {
    let at = Math.max(1, ring.memoryThinNext);
    if (at + 1 >= memory.length) at = 1;
    ring.memoryThinNext = at + 1;
    if (at + 1 < memory.length && thinInMemory(ring, at)) return;
  }
  const dropped = table.remove(memory, 2);
  ring.memoryTotal -= dropped === undefined ? 0 : dropped.length;
}

/** Replaces a segment's content in one step; false where the flash fails. */
function rewrite(segments: Segments, number: number, packs: readonly string[]): boolean {
  const lines: string[] = [];
  for (const pack of packs) lines.push(lineOf(pack));
  if (!segments.ports.writeFile("ring.new", table.concat(lines))) return false;
  return segments.ports.renameFile("ring.new", segmentName(number));
}

function halveAll(packs: readonly string[]): string[] {
  const halved: string[] = [];
  let index = 0;
  while (index < packs.length) {
    if (index + 1 < packs.length) {
      for (const pack of halvePair(packs[index], packs[index + 1])) halved.push(pack);
    } else {
      halved.push(thinPack(packs[index]));
    }
    index += 2;
  }
  return halved;
}

/** Next closed segment after `untouchable` that thinning reaches; 0 where there is none. */
function nextToThin(segments: Segments, untouchable: number): number {
  for (let round = 0; round < 2; round++) {
    let number = Math.max(segments.thinNext, untouchable + 1, segments.first);
    while (number < segments.last) {
      if (segments.ports.readFile(segmentName(number)) !== undefined) return number;
      number += 1;
    }
    segments.thinNext = 0;
    segments.thinPrevious = 0;
  }
  return 0;
}

/** Moves a small segment's packs behind those of the one before, where both fit into one. */
function joinWithPrevious(segments: Segments, number: number, packs: readonly string[]): boolean {
  const previous = segments.thinPrevious;
  if (previous === 0) return false;
  const all = readSegment(segments, previous);
  for (const pack of packs) all.push(pack);
  if (bytesOf(all) > segmentBytes || !rewrite(segments, previous, all)) return false;
  segments.ports.removeFile(segmentName(number));
  return true;
}

const triesAtOnce = 6;

/** Thins one segment; false where it does not get smaller. */
function thinSegment(segments: Segments, number: number): boolean {
  const packs = readSegment(segments, number);
  const halved = halveAll(packs);
  const saved = bytesOf(packs) - bytesOf(halved);
  segments.thinNext = number + 1;
  if (saved > 0) {
    if (!rewrite(segments, number, halved)) return false;
    segments.bytes -= saved;
    segments.packs -= packs.length - halved.length;
  }
  // What is down to single rows gets smaller only together with its neighbour.
  if (!joinWithPrevious(segments, number, halved)) segments.thinPrevious = number;
  return saved > 0;
}

/**
 * Thins a segment younger than number `untouchable` (those before may have been sent). False where
 * none of the next few gets smaller.
 */
export function makeRoomOnFlash(segments: Segments, untouchable: number): boolean {
  for (let attempt = 0; attempt < triesAtOnce; attempt++) {
    let number = nextToThin(segments, untouchable);
    if (number === 0 && untouchable < segments.last) {
      closeSegment(segments);
      number = nextToThin(segments, untouchable);
    }
    if (number === 0) return false;
    if (thinSegment(segments, number)) return true;
  }
  return false;
}
