/**
 * The ring's files: `q1`, `q2`, …, each about 1.2 kB of packs, one a line with a checksum, so that
 * a line torn by a power cut is noticed and left out. Numbers grow; there may be holes.
 */
import { baseNameOf } from "./pack.ts";
import type { Ports } from "./ports.ts";

/** A segment is closed when it has grown to this. */
export const segmentBytes = 1200;
const checksumBytes = 7;

export interface Segments {
  ports: Ports;
  /** Length of the base name that every pack carries. */
  nameBytes: number;
  /** Oldest and newest number; `last` is the one being written, or the next to be. */
  first: number;
  last: number;
  lastBytes: number;
  lastPacks: number;
  /** Of all segments. */
  bytes: number;
  packs: number;
  /**
   * Where thinning goes on, the segment that it dealt with before, how often packs may be halved
   * for now, and whether this round has found one that was not.
   */
  thinNext: number;
  thinPrevious: number;
  thinLevel: number;
  thinFound: boolean;
}

export function segmentName(number: number): string {
  return string.format("q%d", number);
}

function checksum(text: string): number {
  let sum = 7;
  for (let index = 1; index <= text.length; index++) {
    sum = (sum * 31 + (string.byte(text, index) ?? 0)) % 65521;
  }
  return sum;
}

export function lineOf(pack: string): string {
  return string.format("%s*%05d\n", pack, checksum(pack));
}

/** Sound packs of a segment, oldest first; none where there is no such segment. */
export function readSegment(segments: Segments, number: number): string[] {
  const packs: string[] = [];
  const content = segments.ports.readFile(segmentName(number)) ?? "";
  for (const [pack, sum] of string.gmatch(content, "([^\n*]+)%*(%d+)\n")) {
    if (tonumber(sum) === checksum(pack)) packs.push(pack);
  }
  return packs;
}

/** Bytes of packs as lines. */
export function bytesOf(packs: readonly string[]): number {
  let bytes = 0;
  for (const pack of packs) bytes += pack.length + checksumBytes;
  return bytes;
}

function addFound(segments: Segments, number: number): void {
  const packs = readSegment(segments, number);
  if (packs.length === 0) {
    segments.ports.removeFile(segmentName(number));
    return;
  }
  segments.bytes += bytesOf(packs);
  segments.packs += packs.length;
  if (segments.first === 0 || number < segments.first) segments.first = number;
  if (number > segments.last) segments.last = number;
}

/**
 * What earlier starts have left. Their last segment is closed: its last line may be torn. New
 * numbers begin above `above`.
 */
export function findSegments(ports: Ports, above: number): Segments {
  const segments: Segments = {
    ports,
    nameBytes: baseNameOf(ports).length,
    first: 0,
    last: 0,
    lastBytes: 0,
    lastPacks: 0,
    bytes: 0,
    packs: 0,
    thinNext: 0,
    thinPrevious: 0,
    thinLevel: 1,
    thinFound: false,
  };
  if (ports.hasFlash) {
    for (const [name] of string.gmatch(ports.listFiles(), "(%S+)")) {
      const [digits] = string.match(name, "^q(%d+)$");
      if (digits !== undefined) addFound(segments, tonumber(digits) ?? 0);
    }
  }
  segments.last = Math.max(segments.last, above) + 1;
  if (segments.first === 0) segments.first = segments.last;
  return segments;
}

/** The next pack starts a new segment. */
export function closeSegment(segments: Segments): void {
  if (segments.lastBytes === 0) return;
  advance(segments);
}

function advance(segments: Segments): void {
  segments.last += 1;
  segments.lastBytes = 0;
  segments.lastPacks = 0;
}

/** Writes a pack behind all others; false where the flash is full or fails. */
export function appendPack(segments: Segments, pack: string): boolean {
  if (segments.lastBytes >= segmentBytes) closeSegment(segments);
  if (segments.packs === 0) segments.first = segments.last;
  const line = lineOf(pack);
  if (!segments.ports.appendFile(segmentName(segments.last), line)) {
    // Half a line may have been written: nothing more goes into this file.
    advance(segments);
    if (segments.packs === 0) segments.first = segments.last;
    return false;
  }
  segments.lastBytes += line.length;
  segments.bytes += line.length;
  segments.packs += 1;
  segments.lastPacks += 1;
  return true;
}

/** Removes a segment and, where it was the oldest, moves `first` to the next one. */
export function removeSegment(segments: Segments, number: number): void {
  const packs = readSegment(segments, number);
  segments.bytes -= bytesOf(packs);
  segments.packs -= packs.length;
  segments.ports.removeFile(segmentName(number));
  if (segments.thinPrevious === number) segments.thinPrevious = 0;
  if (number === segments.last) advance(segments);
  while (segments.first < segments.last && readSegment(segments, segments.first).length === 0) {
    segments.ports.removeFile(segmentName(segments.first));
    segments.first += 1;
  }
}
