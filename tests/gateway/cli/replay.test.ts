import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { Readable } from "node:stream";
import { describe, expect, it } from "vitest";
import { main } from "../../../gateway/cli/main.ts";
import { examplePack, exampleStation, t0, temporaryFolder } from "../support.ts";

async function run(args: string[], input = "") {
  let out = "";
  let error = "";
  const code = await main(args, {
    stdin: Readable.from([input]),
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

function stationFile(document: unknown = exampleStation()): string {
  const file = join(temporaryFolder(), "station.json");
  writeFileSync(file, typeof document === "string" ? document : JSON.stringify(document));
  return file;
}

const packs = Array.from({ length: 60 }, (_, index) =>
  JSON.stringify(examplePack({ endS: t0 + 2 * (index + 1), seq: index })),
);

describe("leeward replay", () => {
  it("writes a line every ten seconds, on multiples of it", async () => {
    const { code, out, error } = await run(
      ["replay", "--station", stationFile(), "--samples", "-"],
      `${packs.join("\n")}\n`,
    );
    expect(error).toBe("");
    expect(code).toBe(0);
    const times = out
      .trimEnd()
      .split("\n")
      .map((line) => (JSON.parse(line) as { t: number }).t);
    expect(times.length).toBeGreaterThanOrEqual(11);
    for (const [index, t] of times.entries()) {
      expect(t % 10).toBe(0);
      if (index > 0) expect(t - times[index - 1]!).toBe(10);
    }
  });

  it("gives the same from a file, at any pace it is read", async () => {
    const samples = join(temporaryFolder(), "samples.ndjson");
    writeFileSync(samples, packs.join("\r\n"));
    const station = stationFile();
    const fromFile = await run(["replay", "--station", station, "--samples", samples]);
    const fromInput = await run(
      ["replay", "--station", station, "--samples", "-"],
      packs.join("\n"),
    );
    expect(fromFile.out).toBe(fromInput.out);
    expect(fromFile.code).toBe(0);
  });

  it("tells a bad line with its number, leaves it out and ends with 1", async () => {
    const lines = [packs[0], "[", packs[1], "", '[{"n":"pressure","v":1}]', ...packs.slice(2)];
    const station = stationFile();
    const bad = await run(["replay", "--station", station, "--samples", "-"], lines.join("\n"));
    const good = await run(["replay", "--station", station, "--samples", "-"], packs.join("\n"));
    expect(bad.code).toBe(1);
    expect(bad.out).toBe(good.out);
    expect(bad.error).toMatch(/^standard input:2: .*JSON/m);
    expect(bad.error).toMatch(/^standard input:5: .*pressure/m);
    expect(bad.error).toContain("2 of 63 lines of standard input were left out");
  });

  it("warns of a dangerous description and reads on: past data stay readable", async () => {
    const regulator = { stages: 1, adjust: "preset", deliveryBar: 3.45 };
    const station = stationFile(exampleStation({ regulator }));
    const { code, out, error } = await run(
      ["replay", "--station", station, "--samples", "-"],
      packs.join("\n"),
    );
    expect(code).toBe(0);
    expect(error).toMatch(/^leeward: warning: bay-3: sensors\.line\.proofBar: is 30 bar, and no/);
    expect(out.trimEnd().split("\n").length).toBeGreaterThanOrEqual(11);
  });

  it("warns of a misspelt key, and says how it is spelt", async () => {
    const { hose, ...rest } = exampleStation();
    const station = stationFile({ ...rest, hoze: hose });
    const { code, error } = await run(
      ["replay", "--station", station, "--samples", "-"],
      packs.join("\n"),
    );
    expect(code).toBe(0);
    expect(error).toContain("hoze: is not known, so it is kept but not used: did you mean hose?");
  });

  it("says what is wrong with a person's line, and never asks for a pack there", async () => {
    const lines = [
      { received: t0, person: { job: { minimumLpm: 10 } } },
      { person: { reading: 8 } },
      { received: t0, person: { dance: 1 } },
      { received: t0, person: { swop: {} } },
      { received: t0, person: { reading: "x" } },
    ].map((line) => JSON.stringify(line));
    const { code, error } = await run(
      ["replay", "--station", stationFile(), "--samples", "-"],
      [packs[0], ...lines].join("\n"),
    );
    expect(code).toBe(1);
    expect(error).toMatch(
      /:2: person\.job\.minimumLpm is not known: flows belong to the procedure/,
    );
    expect(error).toMatch(/:3: received is missing/);
    expect(error).toContain(
      ":4: person.dance is not known: known here: reading, swap, purge, job, leakTest, undo",
    );
    expect(error).toMatch(/:5: person\.swop is not known: did you mean swap\?/);
    expect(error).toMatch(/:6: person\.reading: /);
    expect(error).not.toContain("SenML");
  });

  it("takes half seconds and refuses a pace that is none", async () => {
    const args = ["replay", "--station", stationFile(), "--samples", "-"];
    const half = await run([...args, "--every", "0.5"], packs.join("\n"));
    const times = half.out
      .trimEnd()
      .split("\n")
      .map((line) => (JSON.parse(line) as { t: number }).t);
    expect(times.every((t, k) => k === 0 || t - times[k - 1]! === 0.5)).toBe(true);
    for (const every of ["-5", "0", "soon"]) {
      const { code, error } = await run([...args, "--every", every]);
      expect(code).toBe(2);
      expect(error).toContain(`--every is "${every}"; it must be a number of seconds above 0.`);
    }
  });

  it("names the station of each line of a shared supply", async () => {
    const folder = temporaryFolder();
    const stations = join(folder, "stations");
    mkdirSync(stations);
    const drop = (station: string, node: string) =>
      exampleStation({ station, node, cylinder: null, supply: "ring-1" });
    writeFileSync(join(stations, "a.json"), JSON.stringify(drop("bay-3", "n-07")));
    writeFileSync(join(stations, "b.json"), JSON.stringify(drop("bay-4", "n-08")));
    const supply = {
      schema: 1,
      supply: "ring-1",
      site: "north",
      node: "n-00",
      kind: "bank",
      cylinder: exampleStation().cylinder,
      drops: ["bay-3", "bay-4"],
    };
    const file = join(folder, "supply.json");
    writeFileSync(file, JSON.stringify(supply));
    const lines = Array.from({ length: 20 }, (_, index) =>
      ["n-00", "n-07", "n-08"].map((node) =>
        JSON.stringify(examplePack({ endS: t0 + 2 * (index + 1), seq: index, node })),
      ),
    ).flat();
    const result = await run(
      ["replay", "--supply", file, "--stations", stations, "--samples", "-"],
      lines.join("\n"),
    );
    expect(result.error).toBe("");
    const names = result.out
      .trimEnd()
      .split("\n")
      .map((line) => (JSON.parse(line) as { station: string }).station);
    expect(new Set(names)).toEqual(new Set(["bay-3", "bay-4"]));
    writeFileSync(
      join(stations, "b.json"),
      JSON.stringify({ ...drop("bay-4", "n-08"), schema: 3 }),
    );
    const broken = await run([
      "replay",
      "--supply",
      file,
      "--stations",
      stations,
      "--samples",
      "-",
    ]);
    expect(broken.code).toBe(1);
    expect(broken.error).toContain("b.json: schema");
  });

  it.each([
    ["no samples", ["--station", "x"], 2, "--samples"],
    ["no station", ["--samples", "-"], 2, "--station"],
    ["both", ["--samples", "-", "--station", "x", "--supply", "y"], 2, "either"],
    ["an unknown flag", ["--colour", "red"], 2, "colour"],
    ["a supply without stations", ["--samples", "-", "--supply", "y"], 2, "--stations"],
    ["a missing file", ["--samples", "-", "--station", "/nowhere/x.json"], 1, "cannot be read"],
    ["every nothing", ["--samples", "-", "--station", "x", "--every", "0"], 2, "--every"],
  ])("with %s says what to do", async (_name, args, code, text) => {
    const result = await run(["replay", ...args]);
    expect(result.code).toBe(code);
    expect(result.error).toContain(text);
    expect(result.out).toBe("");
  });

  it("tells every fault of a description", async () => {
    const broken = stationFile({ ...exampleStation(), schema: 2, altitudeM: 99_999 });
    const result = await run(["replay", "--station", broken, "--samples", "-"]);
    expect(result.code).toBe(1);
    expect(result.error).toContain("schema");
    expect(result.error).toContain("altitudeM");
    const noJson = await run(["replay", "--station", stationFile("{"), "--samples", "-"]);
    expect(noJson.error).toContain("is not JSON");
    const noSamples = await run(["replay", "--station", stationFile(), "--samples", "/nowhere/s"]);
    expect(noSamples.code).toBe(1);
    expect(noSamples.error).toContain("/nowhere/s");
  });
});

describe("leeward", () => {
  it("has a help for itself and each command", async () => {
    const overview = await run(["--help"]);
    expect(overview.code).toBe(0);
    for (const command of ["run", "replay", "export", "gas", "fit", "settings"]) {
      expect(overview.out).toContain(`leeward ${command}`);
    }
    for (const command of ["run", "replay", "export", "settings"]) {
      const byFlag = await run([command, "--help"]);
      expect(byFlag.code).toBe(0);
      expect(byFlag.out).toContain(`leeward ${command} - `);
      expect((await run(["help", command])).out).toBe(byFlag.out);
    }
    expect((await run(["gas", "--help"])).out).toContain("leeward gas");
    expect((await run(["fit", "--help"])).out).toContain("leeward fit");
  });

  it("tells its version, and commands it does not know", async () => {
    expect((await run(["--version"])).out).toMatch(/^leeward \d+\.\d+\.\d+\n$/);
    const unknown = await run(["dance"]);
    expect(unknown.code).toBe(2);
    expect(unknown.error).toContain('There is no command "dance"');
  });
});
