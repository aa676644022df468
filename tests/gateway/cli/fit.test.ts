import { describe, expect, it } from "vitest";
import { type FitIo, runFit } from "../../../gateway/cli/fit.ts";

const station = {
  schema: 1,
  station: "slip-1",
  site: "yard",
  name: "Slipway 1",
  cylinder: {
    gas: "I1-Ar",
    composition: { Ar: 1 },
    waterVolumeL: 44,
    filledBar: 152.8,
    filledC: 21,
    residualBar: 10,
  },
  regulator: { stages: 1, adjust: "preset", deliveryBar: 3.45 },
  flowDevice: {
    kind: "variable-area",
    scaleGas: { Ar: 1 },
    scaleBar: 3.45,
    scaleC: 21,
    scaleMin: 10,
    scaleMax: 60,
    valve: "after-tube",
    float: "ball",
    readAt: "float-centre",
    readingUnit: "CFH",
  },
};

// Common practice, no source.
const rows = `# float tube of the slipway
cylinder_psi,line_psi,indicated_cfh,true_cfh,true_u_percent,action
2200,,40,41,2,set
200,,18,,2,left
200,,40,27.5,2,redialled
`;

function shell(files: Record<string, string>) {
  const out: string[] = [];
  const err: string[] = [];
  const written = new Map<string, string | Uint8Array>();
  const io: FitIo = {
    write: (text) => out.push(text),
    writeError: (text) => err.push(text),
    readFile: (path) => {
      const text = files[path];
      if (text === undefined) throw new Error("no such file");
      return text;
    },
    writeFile: (path, data) => written.set(path, data),
  };
  return { io, written, out: () => out.join(""), err: () => err.join("") };
}

const files = { "rows.csv": rows, "station.json": JSON.stringify(station) };
const usual = ["--readings", "rows.csv", "--station", "station.json", "--target", "35 CFH"];

describe("leeward fit", () => {
  it("--json has parameters, rows, consistent, why and card", async () => {
    const { io, out, err } = shell(files);
    expect(await runFit([...usual, "--json"], io)).toBe(0);
    expect(err()).toBe("");
    const result = JSON.parse(out());
    for (const one of result.parameters) {
      expect(Object.keys(one)).toEqual(
        expect.arrayContaining(["name", "value", "low", "high", "unit"]),
      );
      expect(one.low).toBeLessThan(one.value);
      expect(one.value).toBeLessThan(one.high);
    }
    expect(result.parameters.map((one: { name: string }) => one.name)).toEqual([
      "scale-pressure",
      "scale-error",
      "delivery-pressure",
      "supply-pressure-effect",
      "droop",
      "restriction-conductance",
    ]);
    expect(result.rows).toHaveLength(3);
    expect(typeof result.rows[0].residual).toBe("number");
    expect(result.rows[1].verdict).toContain("row 2 fits if 18 CFH was the true flow");
    expect(result.consistent).toBe(false);
    expect(result.why).toContain("row 2");
    expect(result.card[0]).toMatchObject({ cylinderBar: 152.8, unit: "CFH" });
    expect(result.card[0].low).toBeLessThan(result.card[0].dialTo);
    expect(result.card.at(-1).cylinderBar).toBe(10);
  });

  it("without --json it prints tables in the device's units", async () => {
    const { io, out } = shell(files);
    expect(await runFit(usual, io)).toBe(0);
    expect(out()).toContain("Dial to, for a true flow of 35.0 CFH");
    expect(out()).toContain("2216 psi");
    expect(out()).toContain("Consistent: no");
    expect(out()).toContain("not from the rows");
  });

  it("the same input gives the same output", async () => {
    const [a, b] = [shell(files), shell(files)];
    await runFit([...usual, "--json"], a.io);
    await runFit([...usual, "--json"], b.io);
    expect(a.out()).toBe(b.out());
  });

  it("--save writes the station with the fit, valid as a document", async () => {
    const { io, written } = shell(files);
    const code = await runFit(
      [...usual, "--json", "--save", "new.json", "--date", "2026-11-25", "--meter", "cert. 4411"],
      io,
    );
    expect(code).toBe(0);
    const saved = JSON.parse(String(written.get("new.json")));
    expect(saved.flowDevice.fit.date).toBe("2026-11-25");
    expect(saved.flowDevice.fit.covariance).toHaveLength(saved.flowDevice.fit.parameters.length);
    const again = shell({ ...files, "station.json": JSON.stringify(saved) });
    expect(await runFit([...usual, "--json"], again.io)).toBe(0);
  });

  it("--card writes a PDF", async () => {
    const { io, written, err } = shell(files);
    expect(await runFit([...usual, "--card", "card.pdf", "--station-url", "https://x/s"], io)).toBe(
      0,
    );
    expect(
      Buffer.from(written.get("card.pdf") as Uint8Array)
        .subarray(0, 5)
        .toString(),
    ).toBe("%PDF-");
    expect(err()).toContain("card.pdf");
  });

  it("--help explains columns and ends with 0; nothing at all ends with 2", async () => {
    const { io, out } = shell({});
    expect(await runFit(["--help"], io)).toBe(0);
    for (const word of ["cylinder_bar", "true_reference", "1 sigma", "redialled", "--card"]) {
      expect(out()).toContain(word);
    }
    expect(await runFit([], shell({}).io)).toBe(2);
  });

  it.each([
    [["--readings", "rows.csv"], "--station is missing"],
    [["--readings", "none.csv", "--station", "station.json"], "cannot read none.csv"],
    [[...usual, "--colour", "red"], "--colour is not an option"],
    [[...usual, "--target", "35 CFH"], "given twice"],
    [["--readings", "rows.csv", "--station"], "--station needs a value"],
    [["rows.csv"], "is not an option"],
    [["--readings", "rows.csv", "--station", "station.json", "--target", "35"], "--target"],
    [
      ["--readings", "rows.csv", "--station", "station.json", "--target", "900 L/min"],
      "0.5 and 200",
    ],
    [[...usual, "--gas", "Xe=1"], "--gas"],
    [[...usual, "--date", "yesterday"], "--date"],
  ])("%j ends with 2 and says what to do", async (args, word) => {
    const { io, err } = shell(files);
    expect(await runFit(args, io)).toBe(2);
    expect(err()).toContain(word);
    expect(err()).toContain("leeward fit --help");
  });

  it.each([
    ["{", "is not JSON"],
    [JSON.stringify({ ...station, flowDevice: { kind: "magic" } }), "flowDevice"],
  ])("a bad station document ends with 2", async (text, word) => {
    const { io, err } = shell({ ...files, "station.json": text });
    expect(await runFit(usual, io)).toBe(2);
    expect(err()).toContain(word);
  });

  it("a station whose test would be dangerous ends with 2 and the reason", async () => {
    const line = { rangeBar: 10, accuracyPercentFs: 0.5, proofBar: 30 };
    const text = JSON.stringify({ ...station, sensors: { line } });
    const { io, out, err } = shell({ ...files, "station.json": text });
    expect(await runFit(usual, io)).toBe(2);
    expect(err()).toContain("station.json would be dangerous: sensors.line.proofBar: is 30 bar");
    expect(out()).toBe("");
  });

  it("a station without flow device, or rows of which none can be, ends with 1", async () => {
    const bare = shell({
      ...files,
      "station.json": JSON.stringify({ ...station, flowDevice: undefined }),
    });
    expect(await runFit(usual, bare.io)).toBe(1);
    expect(bare.err()).toContain("flowDevice");
    const odd = shell({
      ...files,
      "rows.csv": "cylinder_bar,indicated,true_lpm,action\n100,5,60,set\n",
    });
    expect(await runFit(usual, odd.io)).toBe(1);
    expect(odd.err()).toContain("physical limit");
  });

  it("without a target the card says what is missing", async () => {
    const { io, out } = shell(files);
    const code = await runFit(
      ["--readings", "rows.csv", "--station", "station.json", "--json"],
      io,
    );
    expect(code).toBe(0);
    const { card } = JSON.parse(out());
    expect(card[0]).toMatchObject({ dialTo: null });
    expect(card[0].why).toContain("no target flow");
  });
});
