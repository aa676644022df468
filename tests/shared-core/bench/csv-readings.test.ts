import { parseBenchCsv } from "@leeward/shared-core/bench/csv-readings.ts";
import type { BenchTest } from "@leeward/shared-core/bench/readings.ts";
import { describe, expect, it } from "vitest";

const argon = { Ar: 1 };
const head = "cylinder_bar,line_bar,indicated,true_lpm,true_u_percent,action";

function read(text: string): BenchTest {
  const answer = parseBenchCsv(text, argon);
  if (!answer.ok) throw new Error(answer.faults.join("; "));
  return answer.value;
}

function faults(text: string): string {
  const answer = parseBenchCsv(text, argon);
  return answer.ok ? "" : answer.faults.join("; ");
}

describe("rows of a bench test", () => {
  it("reads bar and L/min, skips comments and empty lines, takes columns in any order", () => {
    const test = read(
      `# tested by the window\r\n\r\naction,cylinder_bar,true_lpm,indicated\r\nset,200,7.8,8\r\n# pause\r\nleft,100,7.4,7.8\r\n`,
    );
    expect(test.readings).toHaveLength(2);
    const [first, second] = test.readings;
    expect(first).toMatchObject({ row: 1, cylinderPa: 200e5, linePa: null, action: "set" });
    expect(first!.indicatedM3PerS).toBeCloseTo(8 / 60_000, 12);
    expect(second!.trueM3PerS).toBeCloseTo(7.4 / 60_000, 12);
  });

  it("psi and CFH: NIST SP 811 factors, and the reference as a second step", () => {
    const [row] = read(
      "cylinder_psi,line_psi,indicated_cfh,true_cfh,true_u_percent,action\n2200,50,40,41,2,set\n",
    ).readings;
    expect(row!.cylinderPa).toBeCloseTo(2200 * 6894.757293, 0);
    expect(row!.linePa).toBeCloseTo(50 * 6894.757293, 0);
    // 100 CFH at 70 °F, 14.696 psia is 47.016 L/min at 20 °C, 101.325 kPa (exact factors, ideal gas).
    expect(row!.indicatedM3PerS! * 60_000).toBeCloseTo(0.4 * 47.016, 3);
    expect(row!.trueM3PerS! * 60_000).toBeCloseTo(0.41 * 47.016, 3);
    expect(row!.trueSigma).toBe(0.02);
  });

  it("a meter for 0 °C reads 7.3 % less than one for 20 °C", () => {
    const [row] = read(`${head},true_reference\n200,,8,8,2,set,normal\n`).readings;
    expect(row!.trueM3PerS! * 60_000).toBeCloseTo(8 * (293.15 / 273.15), 6);
  });

  it("further columns: gas temperature, barometer, drop of the meter", () => {
    const [row] = read(
      `${head},ambient_c,baro_kpa,meter_drop_bar\n200,,8,8,2,set,25,98.5,0.05\n`,
    ).readings;
    expect(row).toMatchObject({ ambientK: 298.15, atmospherePa: 98_500, meterDropPa: 5000 });
  });

  it("a meter for another gas widens, and is asked about", () => {
    const test = read(`${head},meter_gas\n200,,8,8,2,set,N2\n`);
    // sqrt(28.0/39.9) is 16 % off.
    expect(test.readings[0]!.trueSharedSigma).toBeCloseTo(0.177, 2);
    expect(test.questions.join()).toContain("another gas");
    expect(read(`${head},meter_gas\n200,,8,8,2,set,Ar\n`).readings[0]!.trueSharedSigma).toBe(0);
  });

  it("asks for the reference and the action where there is no column", () => {
    const test = read("cylinder_bar,indicated,true_lpm\n200,8,8\n100,8,7.5\n");
    expect(test.questions.join()).toContain("reference conditions");
    expect(test.questions.join()).toContain("no column action");
    expect(test.readings.map((row) => row.action)).toEqual(["set", "left"]);
  });

  it.each([
    ["2200,,8,8,2,set", "beyond 330 bar: if it is psi"],
    ["200,,x,8,2,set", 'indicated is "x"'],
    ["200,,-3,8,2,set", "nothing to compare"],
    ["200,,8,8,2,turned", "use set, left or redialled"],
    ["200,,8,8,99,set", "true_u_percent is 99"],
    ["200,,,,2,set", "neither a reading nor a true flow"],
    [",,8,8,2,set", "no cylinder pressure"],
    ["3,3.5,8,8,2,set", "not below cylinder pressure"],
    ["200,,8,5,8,2,set", "decimals with a point"],
    ["200,,NaN,8,2,set", "no number"],
    ["200,,Infinity,8,2,set", "no number"],
  ])("row %s is refused, the others are kept", (row, word) => {
    const test = read(`${head}\n${row}\n100,,8,7.5,2,redialled\n`);
    expect(test.readings).toHaveLength(1);
    expect(test.refused[0]!.why).toContain(word);
    expect(test.refused[0]!.line).toBe(2);
  });

  it.each([
    ["", "empty"],
    [`${head}\n`, "no rows"],
    ["a;b;c\n1;2;3\n", "separated by commas"],
    ["indicated,true_lpm\n8,8\n", "cylinder_bar"],
    ["cylinder_bar,cylinder_psi,indicated,true_lpm\n1,1,1,1\n", "keep one"],
    ["cylinder_bar,indicated,indicated,true_lpm\n1,1,1,1\n", "named twice"],
    [`${head}\nx,,8,8,2,set\n`, "row 1 (line 2)"],
  ])("file %j is refused", (text, word) => {
    expect(faults(text)).toContain(word);
  });

  it("a column it does not know is named, not silently dropped", () => {
    expect(read(`${head},mood\n200,,8,8,2,set,good\n`).questions.join()).toContain("column mood");
  });
});
