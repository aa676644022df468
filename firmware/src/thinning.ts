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
  removeSegment,
  type Segments,
  segmentBytes,
  segmentName,
} from "./segments.ts";

/** The packs in memory that thinning may touch. */
interface Memory {
  memory: string[];
  memoryTotal: number;
  memorySent: number;
  memoryThinNext: number;
}

function halvePair(earlier: string, later: string): string[] {
  const first = thinPack(earlier);
  const second = thinPack(later);
  const joined = joinPacks(first, second);
  return joined === undefined ? [first, second] : [joined];
}

/** Makes the packs in memory shorter by one step; drops the oldest where nothing else helps. */
export function makeRoomInMemory(ring: Memory): void {
  const { memory } = ring;
  const start = Math.max(1, ring.memorySent);
  let at = Math.max(start, ring.memoryThinNext);
  if (at + 1 >= memory.length) at = start;
  if (at + 1 < memory.length) {
    const before = memory[at].length + memory[at + 1].length;
    const thinned = halvePair(memory[at], memory[at + 1]);
    memory[at] = thinned[0];
    if (thinned.length === 1) table.remove(memory, at + 2);
    else memory[at + 1] = thinned[1];
    let after = 0;
    for (const pack of thinned) after += pack.length;
    ring.memoryTotal += after - before;
    ring.memoryThinNext = at + thinned.length;
    if (after < before) return;
  }
  const dropped = table.remove(memory, start < memory.length ? start + 1 : 1);
  ring.memoryTotal -= dropped === undefined ? 0 : dropped.length;
  ring.memoryThinNext = 0;
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

/**
 * Thins one segment younger than number `untouchable` (those before may have been sent). False where
 * none is left that could get smaller.
 */
export function makeRoomOnFlash(segments: Segments, untouchable: number): boolean {
  let number = nextToThin(segments, untouchable);
  if (number === 0 && untouchable < segments.last) {
    closeSegment(segments);
    number = nextToThin(segments, untouchable);
  }
  if (number === 0) return false;
  const packs = readSegment(segments, number);
  const halved = halveAll(packs);
  const saved = bytesOf(packs) - bytesOf(halved);
  segments.thinNext = number + 1;
  if (saved <= 0) {
    removeSegment(segments, number);
    return true;
  }
  if (!rewrite(segments, number, halved)) return false;
  segments.bytes -= saved;
  segments.packs -= packs.length - halved.length;
  if (!joinWithPrevious(segments, number, halved)) segments.thinPrevious = number;
  return true;
}
