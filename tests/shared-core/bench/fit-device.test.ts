import { parseBenchCsv } from "@leeward/shared-core/bench/csv-readings.ts";
import { type BenchResult, fitDevice } from "@leeward/shared-core/bench/fit-device.ts";
import { type StationDocument, stationSchema } from "@leeward/shared-core/documents/station.ts";
import { describe, expect, it } from "vitest";
import { fallingSteps, fitCoverage } from "../../accuracy/fit-coverage.ts";
import { runBench, tubeStation } from "./plant-bench.ts";

const psiHead = "cylinder_psi,line_psi,indicated_cfh,true_cfh,true_u_percent,action\n";
const barHead = "cylinder_bar,line_bar,indicated,true_lpm,true_u_percent,action\n";

function fitRows(
  station: StationDocument,
  csv: string,
  options: Parameters<typeof fitDevice>[2] = {},
): BenchResult {
  const test = parseBenchCsv(csv, station.cylinder?.composition ?? null);
  if (!test.ok) throw new Error(test.faults.join("; "));
  const answer = fitDevice(station, test.value, options);
  if (!answer.ok) throw new Error(answer.why);
  return answer.value;
}

const parameter = (result: BenchResult, name: string) => {
  const found = [...result.parameters, ...result.derived].find((one) => one.name === name);
  if (!found) throw new Error(`no parameter ${name}`);
  return found;
};

/** A gas-shop float tube in CFH, scale made for 50 psi. */
const cfhTube = stationSchema.parse({
  schema: 1,
  station: "slip-1",
  site: "yard",
  cylinder: {
    gas: "I1-Ar",
    composition: { Ar: 1 },
    waterVolumeL: 44,
    filledBar: 151.7,
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
    readingUnit: "CFH",
  },
});

const cfhGauge = stationSchema.parse({
  ...cfhTube,
  regulator: { stages: 1, adjust: "screw", deliveryBar: 3.45 },
  flowDevice: {
    kind: "orifice-gauge",
    scaleGas: { Ar: 1 },
    scaleC: 21,
    scaleReadsAt: { bar: 3.45, reading: 40 },
    readingUnit: "CFH",
  },
});

describe("first data set: an independent plant with noise", () => {
  const variation = {
    supplyEffectBarPer100: 0.6,
    floatFactor: 0.97,
    deliveryBar: 2.6,
    setAtBar: 200,
  };

  it.each([
    ["with a line sensor", true],
    ["without", false],
  ])("parameters and card hold the truth, %s", (_, line) => {
    const station = tubeStation();
    const bench = runBench({
      station,
      variation,
      steps: fallingSteps,
      seed: 3,
      meterSigma: 0.015,
      readingSigma: 0.005,
      line,
    });
    const result = fitRows(station, bench.csv);
    expect(result.consistent).toBe(true);
    const truth = {
      "scale-pressure": 3.45,
      "scale-error": (1 / 0.97 - 1) * 100,
      "supply-pressure-effect": -0.006,
      "restriction-conductance": bench.truth.lpmPerBar,
    };
    for (const [name, value] of Object.entries(truth)) {
      const found = parameter(result, name);
      expect(found.low, name).toBeLessThanOrEqual(value);
      expect(found.high, name).toBeGreaterThanOrEqual(value);
    }
    // The supply-pressure effect is found by the rows, not merely allowed for: its sign is certain.
    expect(parameter(result, "supply-pressure-effect").high).toBeLessThan(0);
    for (const entry of result.card) {
      expect(entry.high! - entry.low!).toBeLessThan(0.05 * bench.dialTruth(entry.cylinderBar, 8));
    }
    expect(result.fit?.covariance).toHaveLength(result.fit!.parameters.length);
  });

  it("with a line sensor, over 20 seeds the card's intervals hold the plant's own reading", () => {
    const station = tubeStation();
    let inside = 0;
    let of = 0;
    for (let seed = 1; seed <= 20; seed++) {
      const more = { seed, meterSigma: 0.015, readingSigma: 0.005, line: true };
      const bench = runBench({ station, variation, steps: fallingSteps, ...more });
      for (const entry of fitRows(station, bench.csv).card) {
        if (entry.dialTo === null) continue;
        const right = bench.dialTruth(entry.cylinderBar, 8);
        of++;
        if (right >= entry.low! && right <= entry.high!) inside++;
      }
    }
    expect(of).toBeGreaterThan(150);
    expect(inside / of, `${inside} of ${of}`).toBeGreaterThanOrEqual(0.92);
  });
});

describe("second data set: common practice, no source", () => {
  const rows =
    "2200,,40,40,2,set\n2200,,40,42,2,set\n200,,18,,2,left\n200,,40,27,2,redialled\n200,,40,28,2,redialled\n";

  it("names the float of 18 left alone, and asks whether it was the true flow", () => {
    const result = fitRows(cfhTube, psiHead + rows, { targetLpm: 16 });
    expect(result.consistent).toBe(false);
    const suspect = result.rows.find((row) => row.leftOut)!;
    expect(suspect.row).toBe(3);
    expect(suspect.verdict).toContain("cannot come from the same device as the others");
    expect(suspect.verdict).toContain("row 3 fits if 18 CFH was the true flow");
    expect(suspect.verdict).toContain("lower third of its scale");
    expect(suspect.verdict).toContain("no longer choked");
    expect(suspect.verdict).toContain("regulator is out of its range");
    expect(result.why).toContain("row 3");
    expect(result.rows.filter((row) => row.status === "fits").map((row) => row.row)).toEqual([
      1, 2, 4, 5,
    ]);
  });

  it("27 to 28 for a float dialled back to 40: the tube is at about half its scale's pressure", () => {
    const result = fitRows(cfhTube, psiHead + rows);
    expect(result.rows[3]!.verdict).toMatch(/stands at 0\.4[5-9] of its scale's absolute pressure/);
    expect(result.rows[4]!.verdict).toMatch(/stands at 0\.(4[5-9]|5\d?) of its scale's/);
  });

  it("does not average row 3 away: without it the parameters stay the same", () => {
    const all = fitRows(cfhTube, psiHead + rows);
    const rest = fitRows(cfhTube, psiHead + rows.replace(/200,,18.*\n/, ""));
    expect(rest.consistent).toBe(true);
    for (const one of all.parameters) {
      expect(one.value).toBeCloseTo(parameter(rest, one.name).value, 4);
    }
  });

  it("an orifice gauge passes 40 to 41 at any cylinder pressure, and its rows agree", () => {
    const result = fitRows(
      cfhGauge,
      `${psiHead}2200,,40,40.5,2,set\n1000,,40,41,2,redialled\n200,,40,40,2,redialled\n`,
      { targetLpm: 18.8 },
    );
    expect(result.consistent).toBe(true);
    const [first] = result.card;
    for (const entry of result.card)
      expect(Math.abs(entry.dialTo! - first!.dialTo!)).toBeLessThan(1);
    expect(first!.dialTo).toBeGreaterThan(38.5);
    expect(first!.dialTo).toBeLessThan(40.5);
  });
});

describe("third data set: deliberately inconsistent", () => {
  it("one row with its columns exchanged is named, with the exchange as a question", () => {
    const result = fitRows(
      tubeStation(),
      `${barHead}200,,8,7.9,1.5,set\n150,,8,7.6,1.5,redialled\n100,,7.2,8,1.5,redialled\n50,,8,6.85,1.5,redialled\n20,,8,6.6,1.5,redialled\n`,
    );
    expect(result.consistent).toBe(false);
    const suspect = result.rows.find((row) => row.leftOut)!;
    expect(suspect.row).toBe(3);
    expect(suspect.verdict).toContain("7.2 L/min was the true flow (indicated and true exchanged)");
  });

  it("an orifice gauge's odd row says what should have passed at its reading", () => {
    const result = fitRows(
      cfhGauge,
      `${psiHead}2200,,40,40.5,2,set\n1000,,40,41,2,redialled\n200,,40,40,2,redialled\n200,,40,27,2,redialled\n`,
    );
    const odd = result.rows[3]!;
    expect(odd.leftOut).toBe(true);
    // 27 where 40 to 41 pass: a third less.
    expect(odd.residual).toBeGreaterThan(-36);
    expect(odd.residual).toBeLessThan(-30);
    expect(odd.verdict).toContain("blocked");
  });

  it("a row left alone whose true flow fits and whose reading does not, says which", () => {
    const result = fitRows(
      cfhTube,
      `${psiHead}2200,,40,41,2,set\n200,,18,18.5,2,left\n200,,40,27.5,2,redialled\n`,
    );
    expect(result.rows[1]!.verdict).toContain("its true flow of 18.5 CFH is right");
  });

  it("rows that nothing explains give no card and no fit, only what is odd", () => {
    const result = fitRows(
      tubeStation(),
      `${barHead}200,,8,8,1,set\n200,,8,5,1,set\n100,,8,12,1,redialled\n100,,8,6,1,redialled\n50,,8,9,1,redialled\n50,,8,4,1,redialled\n`,
    );
    expect(result.consistent).toBe(false);
    expect(result.why).toContain("contradict each other");
    expect(result.fit).toBeNull();
    for (const entry of result.card) {
      expect(entry.dialTo).toBeNull();
      expect(entry.why).toContain("contradict");
    }
  });

  it("a whole file in the other unit is asked about, not converted", () => {
    const lpm = [200, 150, 100, 50].map((bar) => `${bar},,8,3.75,1.5,redialled`).join("\n");
    const result = fitRows(tubeStation(), `${barHead}${lpm}\n`);
    expect(result.consistent).toBe(false);
    expect(result.questions.join()).toMatch(
      /all rows fit if its (readings were|true flows were) in CFH/,
    );
  });
});

describe("never a confident number from nothing", () => {
  it("one row: cannot tell, and what the rows do not say is marked as usual", () => {
    const result = fitRows(tubeStation(), `${barHead}200,,8,7.8,1.5,set\n`);
    expect(result.consistent).toBeNull();
    expect(result.why).toContain("only 1 row");
    expect(parameter(result, "supply-pressure-effect")).toMatchObject({ from: "usual" });
    const [full] = result.card;
    const empty = result.card.at(-1)!;
    // Known where it was tested; far from there the interval opens or no figure is given.
    expect(full!.dialTo).not.toBeNull();
    const width = empty.dialTo === null ? 1 : (empty.high! - empty.low!) / empty.dialTo;
    expect(width).toBeGreaterThan(0.3);
  });

  it("all rows at one pressure: says so", () => {
    const result = fitRows(
      tubeStation(),
      `${barHead}180,,8,7.8,1.5,set\n180,,6,5.9,1.5,redialled\n182,,10,9.7,1.5,redialled\n`,
    );
    expect(result.consistent).toBeNull();
    expect(result.why).toContain("one cylinder pressure");
    expect(result.card.at(-1)!.note ?? result.card.at(-1)!.why).toMatch(
      /not tested below|measure at/,
    );
  });

  it("a true flow above the physical limit is not used, and the rest is fitted", () => {
    const result = fitRows(
      tubeStation(),
      `${barHead}200,,8,7.9,1.5,set\n100,,8,7.4,1.5,redialled\n50,,8,19,1.5,redialled\n20,,8,6.8,1.5,redialled\n`,
    );
    const odd = result.rows.find((row) => row.row === 3)!;
    expect(odd.status).toBe("unusable");
    expect(odd.verdict).toContain("above the physical limit");
    expect(result.consistent).toBe(false);
    expect(result.card[0]!.dialTo).not.toBeNull();
  });

  it("no true flow at all: no card", () => {
    const result = fitRows(
      tubeStation(),
      `${barHead}200,,8,,,set\n100,,7.6,,,left\n20,,7,,,left\n`,
    );
    expect(result.consistent).toBeNull();
    expect(result.card.every((entry) => entry.dialTo === null)).toBe(true);
  });

  it("an unknown reference of the meter widens the card", () => {
    const rows = [200, 120, 60, 20].map((bar) => `${bar},,8,7.5,1,redialled`);
    const named = fitRows(
      tubeStation(),
      `${barHead.trim()},true_reference\n${rows.map((row) => `${row},metric20`).join("\n")}\n`,
    );
    const open = fitRows(
      tubeStation(),
      `${barHead.trim()},true_reference\n${rows.map((row) => `${row},`).join("\n")}\n`,
    );
    const width = (result: BenchResult) => result.card[2]!.high! - result.card[2]!.low!;
    expect(width(open)).toBeGreaterThan(2 * width(named));
    expect(open.questions.join()).toContain("no reference conditions");
  });

  it("a target above the scale or below its first mark has no reading, with why", () => {
    const rows = `${barHead}200,,8,7.9,1.5,set\n100,,8,7.4,1.5,redialled\n20,,8,6.8,1.5,redialled\n`;
    const over = fitRows(tubeStation(), rows, { targetLpm: 18 }).card.at(-1)!;
    expect(over).toMatchObject({ dialTo: null });
    expect(over.why).toContain("above the top of the scale");
    const under = fitRows(tubeStation(), rows, { targetLpm: 1.2 }).card[0]!;
    expect(under.why).toContain("below the scale's first mark");
  });

  it("a regulator that sags to nothing ends the card", () => {
    const rows = `${barHead}200,,8,7.5,1.5,set\n150,,7.2,6.1,1.5,left\n100,,6.3,4.75,1.5,left\n50,,5.1,3.25,1.5,left\n`;
    const end = fitRows(tubeStation(), rows, { targetLpm: 12 }).card.at(-1)!;
    expect(end.dialTo).toBeNull();
    expect(end.why).toMatch(/Change the cylinder/);
  });

  it("a station without device or gas is refused with what is missing", () => {
    const test = parseBenchCsv(`${barHead}200,,8,7.5,1.5,set\n`, { Ar: 1 });
    if (!test.ok) throw new Error("rows");
    const noDevice = fitDevice({ ...tubeStation(), flowDevice: null }, test.value);
    expect(!noDevice.ok && noDevice.why).toContain("flowDevice");
    const noGas = fitDevice({ ...tubeStation(), cylinder: null, supply: "ring-1" }, test.value);
    expect(!noGas.ok && noGas.why).toContain("--gas");
  });
});

describe("coverage", () => {
  // The long study, of 200 tests and each figure by itself, is part of `npm run accuracy`.
  it.each([
    ["without a line sensor", false],
    ["with a line sensor", true],
  ])(
    "over 40 simulated tests 95 percent intervals hold the truth 92 to 98 percent of the time, %s",
    (_, line) => {
      const { unanswered, total } = fitCoverage(40, line);
      expect(unanswered).toBeLessThanOrEqual(1);
      expect(total.inside / total.of).toBeGreaterThan(0.92);
      expect(total.inside / total.of).toBeLessThan(0.98);
    },
  );
});
