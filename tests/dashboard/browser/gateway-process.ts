import { type ChildProcess, spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { mkdtemp, rm, statfs } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { LiveEvents, StationList } from "@leeward/shared-core/api/stations.ts";
import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";

const root = new URL("../../..", import.meta.url).pathname;

/** Bytes that a shop may need, a year of a station among them. */
const ROOM = 1e9;

/** Memory, where there is enough: no test here is about the disk, and a busy one makes every commit wait. */
async function quickPlace(): Promise<string> {
  try {
    const { bavail, bsize } = await statfs("/dev/shm");
    if (bavail * bsize > ROOM) return "/dev/shm";
  } catch {
    // None here.
  }
  return tmpdir();
}

/** The shop's own zone, and others around the world where it is night there. */
const zones = ["Europe/Copenhagen", "Pacific/Auckland", "America/Vancouver"];

/**
 * A zone in which it is day, so that no midnight falls into the shop's past or the test itself: today
 * and yesterday are then the same at whatever hour the tests run.
 */
function zoneByDay(): string {
  const hourIn = (timeZone: string) =>
    Number(new Intl.DateTimeFormat("en-GB", { timeZone, hour: "2-digit" }).format(new Date()));
  const isDay = (zone: string) => hourIn(zone) >= 5 && hourIn(zone) < 22;
  return zones.find(isDay) ?? zones[0]!;
}

/** A real gateway of its own with the virtual shop, on free ports, its data in a fresh folder. */
export interface RunningGateway {
  url: string;
  brokerUrl: string;
  /** Stops the process; safe to call twice. */
  stop(): Promise<void>;
}

/**
 * Starts the gateway and waits until it is ready.
 *
 * @param prepare fills the data folder before the gateway opens it
 * @param options further options of `leeward run`
 */
export async function startGateway(
  startMs = 240_000,
  prepare?: (data: string) => Promise<void>,
  options: readonly string[] = [],
): Promise<RunningGateway> {
  if (!existsSync(join(root, "dashboard/dist/index.html"))) {
    throw new Error("dashboard/dist is missing: run `npm run build` before the browser tests");
  }
  const data = await mkdtemp(join(await quickPlace(), "leeward-browser-"));
  await prepare?.(data);
  const child = spawn(
    process.execPath,
    [
      join(root, "gateway/bin/leeward.js"),
      "run",
      ...["--data", data, "--port", "0", "--mqtt-port", "0", "--demo-hours", "0.5"],
      ...["--time-zone", zoneByDay(), "--site-name", "Boatyard"],
      ...options,
    ],
    { cwd: root, stdio: ["ignore", "pipe", "pipe"] },
  );
  let said = "";
  child.stdout.on("data", (chunk) => {
    said += chunk;
  });
  child.stderr.on("data", (chunk) => {
    said += chunk;
  });
  const stop = async () => {
    await ended(child);
    await rm(data, { recursive: true, force: true });
  };
  const until = Date.now() + startMs;
  let url = "";
  while (Date.now() < until) {
    if (child.exitCode !== null) break;
    url = /http:\/\/127\.0\.0\.1:\d+/.exec(said)?.[0] ?? "";
    const brokerUrl = /mqtt:\/\/127\.0\.0\.1:\d+/.exec(said)?.[0] ?? "";
    if (url !== "" && (await isReady(url))) return { url, brokerUrl, stop };
    await sleep(300);
  }
  await stop();
  throw new Error(`the gateway did not become ready; it said:\n${said}`);
}

/**
 * A shop with a past of minutes, for files that read nothing of it: half an hour of six stations is most
 * of the work of a start.
 */
export const startYoung = (
  options: readonly string[] = [],
  prepare?: (data: string) => Promise<void>,
): Promise<RunningGateway> => startGateway(240_000, prepare, ["--demo-hours", "0.1", ...options]);

async function isReady(url: string): Promise<boolean> {
  try {
    const list = await getList(url);
    return list.starting === undefined && list.stations.some((view) => view.estimate !== null);
  } catch {
    return false;
  }
}

export async function getList(url: string): Promise<StationList> {
  const response = await fetch(`${url}/api/v1/stations`);
  if (!response.ok) throw new Error(`GET stations answered ${response.status}`);
  return (await response.json()) as StationList;
}

async function ended(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const gone = new Promise((resolve) => child.once("exit", resolve));
  child.kill("SIGTERM");
  const timer = setTimeout(() => child.kill("SIGKILL"), 8000);
  await gone;
  clearTimeout(timer);
}

export const sleep = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

/** Every estimate that the API gave, by station and time: what the page is held against. */
export class ApiRecord {
  readonly #estimates = new Map<string, Estimate>();
  readonly #abort = new AbortController();

  /** Listens to the gateway's events until closed. */
  static async open(url: string): Promise<ApiRecord> {
    const record = new ApiRecord();
    const response = await fetch(`${url}/api/v1/events`, { signal: record.#abort.signal });
    void record.#read(response);
    for (const view of (await getList(url)).stations) {
      if (view.estimate) record.#keep(view.id, view.estimate);
    }
    return record;
  }

  #keep(id: string, estimate: Estimate): void {
    this.#estimates.set(`${id} ${estimate.t}`, estimate);
  }

  async #read(response: Response): Promise<void> {
    let text = "";
    const decoder = new TextDecoder();
    try {
      for await (const chunk of response.body ?? []) {
        text += decoder.decode(chunk as Uint8Array, { stream: true });
        const messages = text.split("\n\n");
        text = messages.pop() ?? "";
        for (const message of messages) {
          if (!message.startsWith("event: estimate\n")) continue;
          const data = message.slice(message.indexOf("data: ") + 6);
          const event = JSON.parse(data) as LiveEvents["estimate"];
          this.#keep(event.id, event.estimate);
        }
      }
    } catch {
      // Closed by the test, or the gateway was stopped on purpose.
    }
  }

  at(id: string, t: number): Estimate | undefined {
    return this.#estimates.get(`${id} ${t}`);
  }

  close(): void {
    this.#abort.abort();
  }
}
