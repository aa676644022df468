/**
 * Time on the node: whole seconds since start and milliseconds apart, so that 32-bit integers and
 * 24-bit floats hold them exactly.
 */

/** Milliseconds from (`fromS`, `fromMs`) to (`toS`, `toMs`); beyond 20,000 s it stays at 20,000,000. */
export function elapsedMs(fromS: number, fromMs: number, toS: number, toMs: number): number {
  const seconds = toS - fromS;
  if (seconds > 20000) return 20000000;
  return seconds * 1000 + (toMs - fromMs);
}

/** Seconds with up to three decimals, as JSON: `12`, `12.25`. Both parts non-negative. */
export function secondsText(seconds: number, milliseconds: number): string {
  if (milliseconds === 0) return string.format("%d", seconds);
  const [short] = string.gsub(string.format("%d.%03d", seconds, milliseconds), "%.?0+$", "");
  return short;
}

/** The node's clock: uptime from the host, Unix time once somebody has told it. */
export interface Clock {
  uptimeS: number;
  uptimeMs: number;
  /** Unix time at uptime 0; 0 while unknown. */
  startUnixS: number;
  startUnixMs: number;
  /** Whether a time server (rather than the gateway's topic) set it. */
  fromServer: boolean;
  /** Uptime at which the gateway was last heard. */
  heardS: number;
}

const earliestUnixS = 1735689600; // 2025-01-01: nothing of this firmware ran before
const latestUnixS = 2145916800; // 2038-01-01: 32-bit seconds end soon after

export function createClock(): Clock {
  return { uptimeS: 0, uptimeMs: 0, startUnixS: 0, startUnixMs: 0, fromServer: false, heardS: 0 };
}

/** Unix seconds now (fraction dropped); 0 while unknown. */
export function unixNow(clock: Clock): number {
  return clock.startUnixS === 0 ? 0 : clock.startUnixS + clock.uptimeS;
}

/**
 * Takes an announced Unix time as the present. Small differences (below `toleranceMs`) and
 * impossible times are ignored. Returns true where the node's time changed.
 */
export function announceTime(
  clock: Clock,
  unixS: number,
  unixMs: number,
  toleranceMs: number,
): boolean {
  if (unixS < earliestUnixS || unixS > latestUnixS) return false;
  let startS = unixS - clock.uptimeS;
  let startMs = unixMs - clock.uptimeMs;
  if (startMs < 0) {
    startMs += 1000;
    startS -= 1;
  }
  if (clock.startUnixS !== 0) {
    const change =
      startS >= clock.startUnixS
        ? elapsedMs(clock.startUnixS, clock.startUnixMs, startS, startMs)
        : elapsedMs(startS, startMs, clock.startUnixS, clock.startUnixMs);
    if (change < toleranceMs && change > -toleranceMs) return false;
  }
  clock.startUnixS = startS;
  clock.startUnixMs = startMs;
  return true;
}
