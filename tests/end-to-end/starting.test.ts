import { chmodSync, existsSync, mkdirSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { join } from "node:path";
import type { Rack } from "@leeward/shared-core/api/rack.ts";
import type { StationList } from "@leeward/shared-core/api/stations.ts";
import { describe, expect, it } from "vitest";
import { openSqliteStore } from "../../gateway/store/open-sqlite.ts";
import { eventually, exampleStation, temporaryFolder, whenOver } from "../gateway/support.ts";
import { printed, ready, runGateway, runProgram } from "./program.ts";

async function takePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  whenOver(() => server.close());
  const address = server.address();
  if (typeof address !== "object" || address === null) throw new Error("no port");
  return address.port;
}

describe("the demo", () => {
  it("lists six virtual stations within 60 s, flows where gas is on, and stops cleanly amid its past", {
    timeout: 120_000,
  }, async () => {
    const began = Date.now();
    const run = await runGateway(temporaryFolder(), []);
    const answered = Date.now();
    const list = async () => (await (await fetch(`${run.api}/stations`)).json()) as StationList;
    // At once, and honest about what it is still doing.
    const early = await list();
    expect(early.starting === undefined || early.starting.progress < 1).toBe(true);
    const listed = await eventually(
      async () => {
        const now = await list();
        const known = now.stations.filter((one) => one.estimate !== null);
        const flowing = known.some((one) => one.estimate?.mode === "flowing");
        return known.length === 6 && flowing ? now : null;
      },
      "six stations with estimates, gas flowing somewhere",
      60_000,
    );
    const listedS = (Date.now() - began) / 1000;
    expect(listedS).toBeLessThan(60);
    console.log(
      `HTTP after ${((answered - began) / 1000).toFixed(1)} s, six estimates after ${listedS.toFixed(1)} s`,
    );
    expect(listed.demo).toEqual({ virtual: true, speed: 1 });
    for (const station of listed.stations) {
      expect(station.virtual).toBe(true);
      const { estimate } = station;
      if (estimate?.mode === "flowing") expect(estimate.flow.lpm).not.toBeNull();
    }
    const letters = (await (await fetch(`${run.api}/dead-letters`)).json()) as { count: number };
    expect(letters.count).toBe(0);
    run.child.kill("SIGINT");
    expect(await run.ended).toBe(0);
    expect(run.out).toContain("Stopped.");
    expect(run.error).toBe("");
  });

  it("runs faster when told, says so, and refuses real nodes then", {
    timeout: 120_000,
  }, async () => {
    const run = await runGateway(temporaryFolder(), ["--demo-speed", "20", "--demo-hours", "0"]);
    await ready(run);
    const first = (await (await fetch(`${run.api}/stations`)).json()) as StationList;
    expect(first.demo.speed).toBe(20);
    const { mosquittoPub } = await import("./mosquitto.ts");
    await mosquittoPub(run.broker, "leeward/v1/north/n-07/samples", [
      { n: "line-pressure", u: "Pa", v: 1000 },
    ]);
    const letters = (await (await fetch(`${run.api}/dead-letters`)).json()) as {
      deadLetters: { reason: string }[];
    };
    expect(letters.deadLetters.map((one) => one.reason)).toEqual(["demo-speed"]);
    await new Promise((resolve) => setTimeout(resolve, 500));
    // Nor can a real station be described: its times would lie in the demo's future.
    expect(await putJson(`${run.api}/stations/north.bay-3`, exampleStation())).toBe(422);
    const later = (await (await fetch(`${run.api}/stations`)).json()) as StationList;
    // Half a second of the wall is ten of the demo's.
    expect(later.now - first.now).toBeGreaterThan(10);
    run.child.kill("SIGTERM");
    expect(await run.ended).toBe(0);
  });
});

async function putJson(url: string, body: object): Promise<number> {
  const answer = await fetch(url, {
    method: "PUT",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
  });
  return answer.status;
}

describe("a second start on the same folder", () => {
  it("makes the demo anew, and gives way to a real station", { timeout: 150_000 }, async () => {
    const data = temporaryFolder();
    const args = ["--demo-hours", "0.1"];
    const first = await runGateway(data, args);
    await ready(first);
    first.child.kill("SIGTERM");
    expect(await first.ended).toBe(0);
    const second = await runGateway(data, args);
    await ready(second);
    const list = (await (await fetch(`${second.api}/stations`)).json()) as StationList;
    expect(list.stations.map((station) => station.version)).toEqual([1, 1, 1, 1, 1, 1]);
    expect(list.stations.every((station) => station.estimate !== null)).toBe(true);
    expect(await putJson(`${second.api}/stations/north.bay-3`, exampleStation())).toBe(201);
    // A second real one at the demo's own site, with its cylinder: neither goes with the demo.
    const beside = { ...exampleStation(), site: "boatyard", station: "own-bay", node: "n-90" };
    expect(await putJson(`${second.api}/stations/boatyard.own-bay`, beside)).toBe(201);
    const rack = `${second.api}/sites/boatyard/rack`;
    const mine = { serial: "OWN-1", gas: "I1-Ar", composition: { Ar: 1 }, waterVolumeL: 50 };
    const cylinder = { ...mine, lot: "", supplier: "", filledBar: 200, filledC: 15 };
    expect(await putJson(`${rack}/cylinders/own-1`, cylinder)).toBe(200);
    const fitted = await fetch(`${rack}/cylinders/own-1/fit`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ station: "boatyard.own-bay", by: "Ada" }),
    });
    expect(fitted.status).toBe(200);
    expect(second.out).not.toContain("The demo has ended");
    second.child.kill("SIGTERM");
    expect(await second.ended).toBe(0);
    const third = await runGateway(data, args);
    await ready(third);
    expect(third.out).toContain(
      "The demo has ended, since a station of your own is set up (bay-3 and 1 more): its 6 virtual stations and their invented past are deleted.",
    );
    const real = (await (await fetch(`${third.api}/stations`)).json()) as StationList;
    expect(real.stations.map(({ id }) => id)).toEqual(["boatyard.own-bay", "north.bay-3"]);
    const kept = (await (await fetch(`${third.api}/sites/boatyard/rack`)).json()) as Rack;
    expect(kept.cylinders.map(({ id, station }) => [id, station])).toEqual([
      ["own-1", "boatyard.own-bay"],
    ]);
    expect(kept.moves.map(({ kind }) => kind)).toEqual(["fitted", "arrived"]);
    expect(real.unclaimed).toEqual([]);
    expect(third.error).toBe("");
  });
});

describe("what stands in the way of starting", () => {
  it("taken ports: the next free ones while all is virtual, a refusal afterwards", {
    timeout: 90_000,
  }, async () => {
    const [port, mqttPort] = [await takePort(), await takePort()];
    const data = temporaryFolder();
    const ports = ["--port", String(port), "--mqtt-port", String(mqttPort)];
    const args = ["run", "--data", data, "--no-virtual", "--log-level", "warn", ...ports];
    const first = runProgram(args);
    const [, api] = await printed(first, /API on (http:\S+),/);
    await printed(first, /Ready\./);
    expect(first.out).toContain(`Port ${port} is taken; the dashboard is on`);
    expect(first.out).toContain(`Port ${mqttPort} is taken; the broker is on`);
    const put = await fetch(`${api}/api/v1/stations/north.bay-3`, {
      method: "PUT",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(exampleStation()),
    });
    expect(put.status).toBe(201);
    first.child.kill("SIGTERM");
    expect(await first.ended).toBe(0);

    const second = runProgram(args);
    expect(await second.ended).toBe(1);
    expect(second.error).toBe(
      `leeward: Port ${mqttPort} is taken by another program. Stop it (perhaps another gateway), or choose another port with --mqtt-port; nodes then have to be told.\n`,
    );
  });

  it("a taken dashboard port is refused before the demo that ends is deleted", {
    timeout: 60_000,
  }, async () => {
    const data = temporaryFolder();
    const first = await runGateway(data, ["--demo-hours", "0"]);
    await ready(first);
    expect(await putJson(`${first.api}/stations/north.bay-3`, exampleStation())).toBe(201);
    first.child.kill("SIGTERM");
    expect(await first.ended).toBe(0);
    const port = await takePort();
    const second = runProgram([
      ...["run", "--data", data, "--port", String(port), "--mqtt-port", "0"],
    ]);
    expect(await second.ended).toBe(1);
    expect(second.error).toContain(`Port ${port} is taken by another program.`);
    expect(second.out).not.toContain("The demo has ended");
    const store = await openSqliteStore(join(data, "leeward.sqlite"));
    const stations = (await store.descriptions()).filter(({ kind }) => kind === "station");
    await store.close();
    expect(stations.filter(({ site }) => site === "boatyard")).toHaveLength(6);
  });

  it("a second gateway on the same folder is told", { timeout: 60_000 }, async () => {
    const data = temporaryFolder();
    const first = await runGateway(data, ["--demo-hours", "0.1"]);
    await ready(first);
    const second = runProgram([
      "run",
      "--data",
      data,
      "--port",
      "0",
      "--mqtt-port",
      "0",
      "--no-virtual",
    ]);
    expect(await second.ended).toBe(1);
    expect(second.error).toContain("Another gateway uses the data folder");
    // Nor has it deleted the first one's demo, though it was told to show none.
    expect(second.out + second.error).not.toContain("The demo has ended");
    const store = await openSqliteStore(join(data, "leeward.sqlite"));
    const stations = (await store.descriptions()).filter(({ kind }) => kind === "station");
    await store.close();
    expect(stations).toHaveLength(6);
  });

  it("a data folder that is a file, or whose store is broken, is told", {
    timeout: 60_000,
  }, async () => {
    const folder = temporaryFolder();
    const file = join(folder, "file");
    writeFileSync(file, "");
    const asFile = runProgram(["run", "--data", file, "--port", "0", "--mqtt-port", "0"]);
    expect(await asFile.ended).toBe(1);
    expect(asFile.error).toMatch(/^leeward: The data folder .*\/file .*--data\.\n$/);
    writeFileSync(join(folder, "leeward.sqlite"), "this is no store at all, not even a little");
    const broken = runProgram(["run", "--data", folder, "--port", "0", "--mqtt-port", "0"]);
    expect(await broken.ended).toBe(1);
    expect(broken.error).toMatch(/^leeward: The store .* cannot be opened .*--data\.\n$/);
  });

  it("a data folder that cannot be written is told", { timeout: 60_000 }, async () => {
    const folder = join(temporaryFolder(), "locked");
    mkdirSync(folder);
    chmodSync(folder, 0o500);
    // Root writes everywhere; a file system that nobody writes to stands in for a locked folder.
    const locked = process.getuid?.() === 0 ? "/proc/leeward" : folder;
    expect(existsSync("/proc")).toBe(true);
    const run = runProgram(["run", "--data", locked, "--port", "0", "--mqtt-port", "0"]);
    expect(await run.ended).toBe(1);
    expect(run.error).toMatch(
      /^leeward: The data folder .* cannot be (made|written) \(.*\)\. .*--data.*\n$/,
    );
  });

  it("wrong settings are told all at once, nothing starts", async () => {
    const run = runProgram(["run", "--port", "x", "--virtual", "maybe"]);
    expect(await run.ended).toBe(1);
    expect(run.error).toContain('--port is "x"');
    expect(run.error).toContain('--virtual is "maybe"');
    const typo = runProgram(["run", "--prot", "1"]);
    expect(await typo.ended).toBe(2);
    expect(typo.error).toContain("--prot");
  });
});
