import { readFileSync } from "node:fs";
import { join } from "node:path";
import { Readable } from "node:stream";
import { describe, expect, it } from "vitest";
import { main } from "../../../gateway/cli/main.ts";
import {
  examplePack,
  exampleStation,
  samplesTopic,
  startTestGateway,
  statusTopic,
  t0,
  temporaryFolder,
} from "../support.ts";

async function run(args: string[]) {
  let out = "";
  let error = "";
  const code = await main(args, {
    stdin: Readable.from([]),
    out: (text) => {
      out += text;
    },
    error: (text) => {
      error += text;
    },
    environment: {},
  });
  return { code, out, error };
}

describe("leeward export", () => {
  it("writes what replay reads, while the gateway runs", async () => {
    const folder = temporaryFolder();
    const { link, gateway, clock, store } = await startTestGateway({ folder });
    await gateway.service.save(exampleStation(), null);
    await link.send(statusTopic, { state: "online", boot: 1 });
    for (let seq = 1; seq <= 40; seq++) {
      clock.goTo(t0 + 2 * seq + 0.5);
      await link.send(samplesTopic, examplePack({ endS: t0 + 2 * seq, seq }));
      await link.send(
        "leeward/v1/north/n-99/samples",
        examplePack({ endS: t0 + 2 * seq, seq, node: "n-99" }),
      );
    }
    await gateway.service.say(gateway.directory.station("north.bay-3")!, { reading: 8 });
    await gateway.service.save(exampleStation({ altitudeM: 7 }), 1);
    const out = temporaryFolder();
    const exported = await run([
      "export",
      "--station",
      "north.bay-3",
      "--data",
      folder,
      "--out",
      out,
    ]);
    expect(exported.error).toBe("");
    expect(exported.code).toBe(0);
    const station = JSON.parse(readFileSync(join(out, "station.json"), "utf8")) as object;
    expect(station).toEqual({ ...exampleStation(), timeZone: "Europe/Copenhagen" });
    const lines = readFileSync(join(out, "samples.ndjson"), "utf8")
      .trimEnd()
      .split("\n")
      .map((line) => JSON.parse(line) as Record<string, unknown>);
    expect(lines).toHaveLength(43);
    expect(lines[0]).toEqual({
      received: t0,
      topic: statusTopic,
      payload: { state: "online", boot: 1 },
    });
    expect(lines[41]).toEqual({ received: t0 + 80.5, station: "bay-3", person: { reading: 8 } });
    expect(lines[42]).toMatchObject({ setup: { stations: [{ altitudeM: 7 }] } });

    const replayed = await run([
      "replay",
      "--station",
      join(out, "station.json"),
      "--samples",
      join(out, "samples.ndjson"),
      "--every",
      "1",
    ]);
    expect(replayed.error).toBe("");
    expect(replayed.out.trimEnd().split("\n").length).toBeGreaterThan(70);

    const stretch = await run([
      "export",
      "--station",
      "north.bay-3",
      "--data",
      folder,
      "--out",
      out,
      "--from",
      String(t0 + 21),
      "--to",
      new Date((t0 + 41) * 1000).toISOString(),
    ]);
    expect(stretch.code).toBe(0);
    expect(readFileSync(join(out, "samples.ndjson"), "utf8").trimEnd().split("\n")).toHaveLength(
      10,
    );
    await store.fact("still open");
  });

  it.each([
    [["export"], 2, "--station"],
    [["export", "--station", "north.bay-3", "--data", "/nowhere"], 1, "no store"],
    [["export", "--station", "a.b", "--from", "noon"], 2, "--from"],
  ])("%j says what to do", async (args, code, text) => {
    const result = await run(args);
    expect(result.code).toBe(code);
    expect(result.error).toContain(text);
  });

  it("says when there is no such station", async () => {
    const folder = temporaryFolder();
    await startTestGateway({ folder });
    const result = await run(["export", "--station", "north.none", "--data", folder]);
    expect(result.code).toBe(1);
    expect(result.error).toContain("knows no station north.none");
  });
});
