/**
 * Making room in a full ring: neighbouring packs lose every second row (the rows of an edge last)
 * and become one. Oldest first; only when all have been halved are the oldest halved again.
 */
import { joinPacks, thinningOf, thinPack } from "./pack.ts";
import {
  bytesOf,
  closeSegment,
  lineOf,
  readSegment,
  type Segments,
  segmentBytes,
  segmentName,
} from "./segments.ts";

// Nine halvings turn 15 s into two hours: what is still too much then is dropped.
const mostHalved = 9;

/** The packs in memory that thinning may touch. */
interface Memory {
  segments: Segments;
  memory: string[];
  memoryTotal: number;
}

/** Thins the less thinned of two neighbours, or both, and joins them. */
function halvePair(earlier: string, later: string, nameBytes: number): string[] {
  const level = Math.min(thinningOf(earlier), thinningOf(later));
  const first = thinningOf(earlier) === level ? thinPack(earlier) : earlier;
  const second = thinningOf(later) === level ? thinPack(later) : later;
  const joined = joinPacks(first, second, nameBytes);
  return joined === undefined ? [first, second] : [joined];
}

/** Thins two neighbours in memory; true where that made them shorter. */
function thinInMemory(ring: Memory, at: number): boolean {
  const { memory } = ring;
  const before = memory[at].length + memory[at + 1].length;
  const thinned = halvePair(memory[at], memory[at + 1], ring.segments.nameBytes);
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
 * Makes the packs in memory shorter by one step, behind the one that may have been sent: the oldest
 * of those that were halved least. Drops the oldest where nothing else helps.
 */
export function makeRoomInMemory(ring: Memory): void {
  const { memory } = ring;
  for (let level = 0; level < mostHalved; level++) {
    for (let at = 1; at + 1 < memory.length; at++) {
      const fresh = Math.min(thinningOf(memory[at]), thinningOf(memory[at + 1])) <= level;
      if (fresh && thinInMemory(ring, at)) return;
    }
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

/** Halves neighbours of which one was halved less often than `level`; leaves the others alone. */
function halveAll(packs: readonly string[], level: number, nameBytes: number): string[] {
  const halved: string[] = [];
  let index = 0;
  while (index < packs.length) {
    const earlier = packs[index];
    const later = index + 1 < packs.length ? packs[index + 1] : undefined;
    const fresh = thinningOf(earlier) < level;
    if (later === undefined) {
      halved.push(fresh ? thinPack(earlier) : earlier);
    } else if (fresh || thinningOf(later) < level) {
      for (const pack of halvePair(earlier, later, nameBytes)) halved.push(pack);
    } else {
      halved.push(earlier);
      halved.push(later);
    }
    index += 2;
  }
  return halved;
}

/** Next closed segment after `untouchable` that thinning reaches in this round; 0 at its end. */
function nextToThin(segments: Segments, untouchable: number): number {
  let number = Math.max(segments.thinNext, untouchable + 1, segments.first);
  while (number < segments.last) {
    if (segments.ports.readFile(segmentName(number)) !== undefined) return number;
    number += 1;
  }
  return 0;
}

/** Begins a new round; one that found nothing lets packs be halved once more. */
function nextRound(segments: Segments): void {
  if (!segments.thinFound) segments.thinLevel += 1;
  segments.thinFound = false;
  segments.thinNext = 0;
  segments.thinPrevious = 0;
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

const stepsAtOnce = 6;

/** Halves a segment that was halved less often than is allowed for now; true where it got smaller. */
function thinSegment(segments: Segments, number: number): boolean {
  const packs = readSegment(segments, number);
  segments.thinNext = number + 1;
  const halved = halveAll(packs, segments.thinLevel, segments.nameBytes);
  const saved = bytesOf(packs) - bytesOf(halved);
  if (saved > 0) {
    if (!rewrite(segments, number, halved)) return false;
    segments.thinFound = true;
    segments.bytes -= saved;
    segments.packs -= packs.length - halved.length;
  }
  if (!joinWithPrevious(segments, number, halved)) segments.thinPrevious = number;
  return saved > 0;
}

/**
 * Thins one segment younger than number `untouchable` (those before may have been sent), the oldest
 * of those that were halved least. A few steps at a time, so that no turn takes long: true where
 * room was made or the search goes on, false where there is nothing to thin.
 */
export function makeRoomOnFlash(segments: Segments, untouchable: number): boolean {
  for (let step = 0; step < stepsAtOnce; step++) {
    const number = nextToThin(segments, untouchable);
    if (number !== 0) {
      if (thinSegment(segments, number)) return true;
    } else {
      if (segments.thinLevel > mostHalved) return false;
      if (untouchable < segments.last) closeSegment(segments);
      nextRound(segments);
    }
  }
  return true;
}
