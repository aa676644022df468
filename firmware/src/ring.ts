/**
 * Store and forward. Every pack waits here until the gateway says it is stored. Packs of a good
 * hour stay in memory; while the gateway is away, or when more than a few wait, they go to flash.
 * They are sent strictly in order, oldest first. A full ring first lets go of packs that the broker
 * has acknowledged, then thins the oldest.
 */
import { packKey } from "./pack.ts";
import type { Ports } from "./ports.ts";
import {
  appendPack,
  closeSegment,
  findSegments,
  readSegment,
  removeSegment,
  type Segments,
} from "./segments.ts";
import { makeRoomInMemory, makeRoomOnFlash } from "./thinning.ts";

const packsInMemory = 3;
const memoryBytes = 4000;
const retryFlashS = 600;
const lostAfterS = 30;

export interface Ring {
  segments: Segments;
  /** Packs younger than all on flash, and their bytes. */
  memory: string[];
  memoryTotal: number;
  /** Leading packs of `memory` that the broker has; that were ever sent. */
  memoryAcknowledged: number;
  memorySent: number;
  /** What is sent next: a line of a segment; past the last line of the last segment, the memory. */
  cursor: number;
  cursorLine: number;
  /** The segment that the cursor reads. */
  cache: string[];
  cacheOf: number;
  /** Segments up to this number may have been sent: their packs must not change any more. */
  sentUpTo: number;
  /** What of that is written down, so that a reset does not forget it. */
  sentWritten: number;
  /** Lines of the oldest segment that are stored already. */
  storedLines: number;
  /** Flash failed; tried again after this uptime. */
  flashBrokenUntilS: number;
  /** The oldest pack that the broker has and the gateway has not, and since when it is missed. */
  missedKey: string;
  missedSinceS: number;
}

/** Opens the ring and finds what an earlier start has left on flash. */
export function openRing(ports: Ports): Ring {
  const sent = tonumber(ports.readFile("sent") ?? "0") ?? 0;
  const segments = findSegments(ports, sent);
  return {
    segments,
    memory: [],
    memoryTotal: 0,
    memoryAcknowledged: 0,
    memorySent: 0,
    cursor: segments.first,
    cursorLine: 0,
    cache: [],
    cacheOf: 0,
    sentUpTo: sent,
    sentWritten: sent,
    storedLines: 0,
    flashBrokenUntilS: 0,
    missedKey: "",
    missedSinceS: 0,
  };
}

/** Packs that wait for the gateway. */
export function waiting(ring: Ring): number {
  return ring.segments.packs - ring.storedLines + ring.memory.length;
}

function load(ring: Ring, number: number): string[] {
  if (ring.cacheOf !== number) {
    ring.cache = readSegment(ring.segments, number);
    ring.cacheOf = number;
  }
  return ring.cache;
}

function forgetCache(ring: Ring): void {
  ring.cache = [];
  ring.cacheOf = 0;
}

/** All that is on flash has been passed; tells without reading. */
function pastFlash(ring: Ring): boolean {
  const { segments } = ring;
  if (segments.packs === 0 || ring.cursor > segments.last) return true;
  return ring.cursor === segments.last && ring.cursorLine >= segments.lastPacks;
}

/** Moves the cursor to the next line on flash; false where all of flash has been passed. */
function onFlash(ring: Ring): boolean {
  const { segments } = ring;
  if (pastFlash(ring)) return false;
  while (ring.cursor <= segments.last) {
    if (ring.cursorLine < load(ring, ring.cursor).length) return true;
    if (ring.cursor === segments.last) return false;
    ring.cursor += 1;
    ring.cursorLine = 0;
  }
  return false;
}

/** The pack to send next, in its short form; undefined where none waits. */
export function nextPack(ring: Ring): string | undefined {
  if (onFlash(ring)) return ring.cache[ring.cursorLine];
  if (ring.cacheOf !== 0) forgetCache(ring);
  return ring.memoryAcknowledged < ring.memory.length
    ? ring.memory[ring.memoryAcknowledged]
    : undefined;
}

/** Once a segment, not once a pack: flash wears. */
function writeSent(ring: Ring): void {
  if (ring.sentUpTo === ring.sentWritten) return;
  const done = ring.segments.ports.writeFile("sent", string.format("%d", ring.sentUpTo));
  if (done) ring.sentWritten = ring.sentUpTo;
}

/** `nextPack` has been handed to the radio: its content must not change any more. */
export function markSent(ring: Ring): void {
  if (onFlash(ring)) {
    ring.sentUpTo = Math.max(ring.sentUpTo, ring.cursor);
    writeSent(ring);
  } else {
    ring.memorySent = Math.max(ring.memorySent, ring.memoryAcknowledged + 1);
  }
}

/** The broker has the pack (`boot`, `seq`); nothing happens where that is not the next one. */
export function markAcknowledged(ring: Ring, boot: number, seq: number): void {
  const pack = nextPack(ring);
  if (pack === undefined) return;
  const [packBoot, packSeq] = packKey(pack);
  if (packBoot !== boot || packSeq !== seq) return;
  if (onFlash(ring)) ring.cursorLine += 1;
  else ring.memoryAcknowledged += 1;
}

/** Starts again at the oldest pack that is not stored: after each reconnection. */
export function rewind(ring: Ring): void {
  forgetCache(ring);
  ring.cursor = ring.segments.first;
  ring.cursorLine = ring.storedLines;
  ring.memoryAcknowledged = 0;
}

function forgetMemoryHead(ring: Ring): void {
  const pack = table.remove(ring.memory, 1);
  ring.memoryTotal -= pack === undefined ? 0 : pack.length;
  ring.memoryAcknowledged = Math.max(0, ring.memoryAcknowledged - 1);
  ring.memorySent = Math.max(0, ring.memorySent - 1);
}

/** Moves the oldest pack in memory to flash. False where the flash fails. */
function spillOne(ring: Ring): boolean {
  const { segments } = ring;
  const sent = ring.memorySent > 0;
  const acknowledged = ring.memoryAcknowledged > 0;
  // A segment holds only packs that were sent, or only packs that were not.
  if (!sent && ring.sentUpTo >= segments.last) closeSegment(segments);
  const passed = pastFlash(ring);
  if (!appendPack(segments, ring.memory[0])) return false;
  if (ring.cacheOf === segments.last) forgetCache(ring);
  if (sent) ring.sentUpTo = segments.last;
  if (passed) {
    ring.cursor = segments.last;
    ring.cursorLine = segments.lastPacks - (acknowledged ? 0 : 1);
  }
  forgetMemoryHead(ring);
  return true;
}

/** Moves all of the memory to flash, where there is any. */
export function spill(ring: Ring, uptimeS: number): void {
  const { segments } = ring;
  if (!segments.ports.hasFlash || uptimeS < ring.flashBrokenUntilS) return;
  while (ring.memory.length > 0) {
    if (!spillOne(ring)) {
      ring.flashBrokenUntilS = uptimeS + retryFlashS;
      break;
    }
  }
  writeSent(ring);
}

/** Takes a new pack. While `online` is false it goes to flash at once. */
export function pushPack(ring: Ring, pack: string, uptimeS: number, online: boolean): void {
  const { segments } = ring;
  ring.memory.push(pack);
  ring.memoryTotal += pack.length;
  if (!online || ring.memory.length > packsInMemory) spill(ring, uptimeS);
  let tries = 8;
  while (ring.memoryTotal > memoryBytes && tries > 0) {
    tries -= 1;
    // Packs go out in order: all but the last that was sent have reached the broker.
    if (ring.memorySent > 1) forgetMemoryHead(ring);
    else makeRoomInMemory(ring);
  }
  tries = 8;
  while (segments.bytes > segments.ports.ringBytes && tries > 0) {
    tries -= 1;
    if (segments.first < Math.max(ring.sentUpTo, ring.cursor)) forgetFirstSegment(ring);
    else if (!makeRoomOnFlash(segments, Math.max(ring.sentUpTo, ring.cursor))) {
      forgetFirstSegment(ring);
    }
  }
}

function forgetFirstSegment(ring: Ring): void {
  const { segments } = ring;
  const first = segments.first;
  if (ring.cacheOf === first) forgetCache(ring);
  removeSegment(segments, first);
  ring.storedLines = 0;
  if (ring.cursor < segments.first) {
    ring.cursor = segments.first;
    ring.cursorLine = 0;
  }
}

/** True where a pack is covered by the gateway's word. */
function covered(pack: string, boot: number, through: number): boolean {
  const [packBoot, packSeq] = packKey(pack);
  return packBoot === boot && packSeq <= through;
}

function releaseFlash(ring: Ring, boot: number, through: number): void {
  const { segments } = ring;
  while (segments.packs > 0) {
    const packs =
      ring.cacheOf === segments.first ? ring.cache : readSegment(segments, segments.first);
    let stored = ring.storedLines;
    while (stored < packs.length && covered(packs[stored], boot, through)) stored += 1;
    ring.storedLines = stored;
    if (stored < packs.length) return;
    forgetFirstSegment(ring);
  }
}

/** The gateway has every pack of `boot` up to `through`: they leave the ring. */
export function release(ring: Ring, boot: number, through: number, uptimeS: number): void {
  if (ring.segments.packs > 0) releaseFlash(ring, boot, through);
  while (ring.memory.length > 0 && covered(ring.memory[0], boot, through)) forgetMemoryHead(ring);
  watchForLoss(ring, uptimeS);
}

/**
 * Packs travel in order. Where the gateway goes on confirming others while the oldest one that the
 * broker took stays missing, that one was lost on the way: everything from there is sent again.
 */
function watchForLoss(ring: Ring, uptimeS: number): void {
  const { segments } = ring;
  let key = "";
  if (segments.packs > 0) {
    const behind = ring.cursor > segments.first || ring.cursorLine > ring.storedLines;
    if (behind) key = string.format("f%d:%d", segments.first, ring.storedLines);
  } else if (ring.memoryAcknowledged > 0) {
    const [boot, seq] = packKey(ring.memory[0]);
    key = string.format("%d:%d", boot, seq);
  }
  if (key !== ring.missedKey) {
    ring.missedKey = key;
    ring.missedSinceS = uptimeS;
  } else if (key !== "" && uptimeS - ring.missedSinceS >= lostAfterS) {
    ring.missedSinceS = uptimeS;
    rewind(ring);
  }
}
