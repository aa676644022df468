import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { runGas } from "../../../gateway/cli/gas.ts";

const reference = new URL("../../reference/gerg2008-points.csv", import.meta.url);

function run(args: string[], files: Record<string, string> = {}) {
  let output = "";
  let errors = "";
  const code = runGas(args, {
    write: (text) => {
      output += text;
    },
    writeError: (text) => {
      errors += text;
    },
    readFile: (path) => {
      const text = files[path];
      if (text === undefined) {
        throw new Error("no such file");
      }
      return text;
    },
  });
  return { code, output, errors };
}

describe("leeward gas, one state", () => {
  test("prints a readable table; --bar is gauge and says so", () => {
    const { code, output, errors } = run([
      "--composition",
      "Ar=0.75,CO2=0.25",
      "--bar",
      "150",
      "--c",
      "20",
    ]);
    expect([code, errors]).toEqual([0, ""]);
    expect(output).toMatch(/Gas +M21-ArC-25 \(Ar 75 %, CO2 25 %\)/);
    expect(output).toMatch(/Pressure, gauge +150\.000 bar/);
    expect(output).toMatch(/Pressure, absolute +151\.013 bar/);
    expect(output).toMatch(/Compressibility Z +0\.8355/);
    expect(output).toMatch(/model uncertainty +0\.\d+ % \(1 sigma\)/);
    expect(output).toMatch(/L at 20 °C, 101\.325 kPa \(metric20\)/);
  });

  test("--json has the same in SI", () => {
    const { code, output } = run([
      "--gas",
      "I1-Ar",
      "--kpa-abs",
      "2000",
      "--k",
      "253.15",
      "--json",
    ]);
    expect(code).toBe(0);
    const answer = JSON.parse(output) as Record<string, number>;
    // Second row of the reference points (NIST's routines for AGA 8 Part 2).
    expect(answer.densityMolPerM3).toBeCloseTo(974.631837376002, 8);
    expect(answer.cpJPerMolK).toBeCloseTo(22.2810442721801, 9);
    expect(answer.pressurePa).toBeCloseTo(2e6, 6);
  });

  test("US units and a cylinder: 49 L of argon at 2640 psig, 70 °F hold 331.3 ft³", () => {
    const { output } = run([
      "--gas",
      "I1-Ar",
      "--psi",
      "2640",
      "--f",
      "70",
      "--litres",
      "49",
      "--json",
    ]);
    const answer = JSON.parse(output) as {
      content: { mol: number };
      standardDensityMolPerM3: { us: number };
    };
    const cubicFeet = answer.content.mol / answer.standardDensityMolPerM3.us / 0.028316846592;
    expect(Math.abs(cubicFeet / 331.3 - 1)).toBeLessThan(0.001);
  });

  test("a negative temperature is a value, with a space or with =", () => {
    for (const cold of [["--c", "-20"], ["--c=-20"]]) {
      const { code, output } = run(["--gas", "I1-Ar", "--bar", "150", ...cold]);
      expect(code).toBe(0);
      expect(output).toContain("-20.00 °C = -4.00 °F");
    }
  });

  test("altitude lowers the absolute pressure", () => {
    const { output } = run([
      "--gas",
      "I1-Ar",
      "--bar",
      "10",
      "--c",
      "20",
      "--altitude",
      "1000",
      "--json",
    ]);
    const answer = JSON.parse(output) as Record<string, number>;
    expect(answer.pressurePa).toBeCloseTo(1e6 + 89_875, -2);
  });

  test("a cold mixture that may hold liquid is pointed out", () => {
    const { output } = run(["--composition", "Ar=0.5,CO2=0.5", "--bar", "100", "--c", "-20"]);
    expect(output).toContain("may condense");
  });

  test("CO2 at its vapour pressure: the pressure tells no content", () => {
    // 57.29 bar absolute at 20 °C: Span & Wagner 1996.
    const args = ["--gas", "C1-C", "--kpa-abs", "5729", "--c", "20", "--litres", "10"];
    expect(run(args).output).toMatch(/vapour pressure of CO2.*says nothing about its content/);
    const above = ["--gas", "C1-C", "--kpa-abs", "5500", "--c", "20", "--litres", "10"];
    expect(run(above).output).not.toContain("Caution");
  });

  test("no viscosity where its correlations do not reach", () => {
    const { output } = run(["--gas", "I1-Ar", "--bar", "1", "--k", "120", "--json"]);
    expect(JSON.parse(output).viscosityAtLowPressurePaS).toBeNull();
    expect(run(["--gas", "I1-Ar", "--bar", "1", "--k", "120"]).output).toContain("200 to 500 K");
  });

  test("--help reads like a manual page", () => {
    const { code, output } = run(["--help"]);
    expect(code).toBe(0);
    for (const word of ["Usage", "--composition", "--points", "--json", "gauge", "Examples"]) {
      expect(output).toContain(word);
    }
  });
});

describe("leeward gas, bad input", () => {
  test.each<[string[], number, RegExp]>([
    [[], 2, /^$/],
    [["--composition", "Ar=0.75,CO2=0.2", "--bar", "1", "--c", "20"], 1, /GAS_FRACTION_SUM.*0\.95/],
    [["--composition", "Ar=75,CO2=25", "--bar", "1", "--c", "20"], 1, /GAS_FRACTION_RANGE/],
    [["--composition", "Xe=1", "--bar", "1", "--c", "20"], 2, /"Xe".*Ar, CO2/],
    [["--composition", "Ar=x", "--bar", "1", "--c", "20"], 2, /Ar.*mole fraction/],
    [["--composition", "Ar=0.5,Ar=0.5", "--bar", "1", "--c", "20"], 2, /twice/],
    [["--gas", "argon", "--bar", "1", "--c", "20"], 1, /GAS_DESIGNATION/],
    [["--gas", "I1-Ar", "--c", "20"], 2, /a pressure with exactly one of --bar, --psi, --kpa-abs/],
    [["--gas", "I1-Ar", "--bar", "1", "--psi", "1", "--c", "20"], 2, /exactly one/],
    [["--gas", "I1-Ar", "--bar", "1"], 2, /a temperature/],
    [["--gas", "I1-Ar", "--bar", "two", "--c", "20"], 2, /--bar is "two"/],
    [["--gas", "I1-Ar", "--bar", "-2", "--c", "20"], 1, /GAS_PRESSURE_RANGE/],
    [["--gas", "I1-Ar", "--bar", "900", "--c", "20"], 1, /GAS_PRESSURE_RANGE.*70000000/],
    [["--gas", "I1-Ar", "--bar", "1", "--c", "-250"], 1, /GAS_TEMPERATURE_RANGE/],
    [["--gas", "C1-C", "--bar", "70", "--c", "20"], 1, /GAS_NOT_VAPOUR/],
    [
      ["--gas", "I1-Ar", "--bar", "1", "--c", "20", "--colour", "red"],
      2,
      /--colour is not an option/,
    ],
    [["--gas", "I1-Ar", "--bar", "1", "--c"], 2, /--c needs a value/],
    [["--bar", "1", "--bar", "2"], 2, /given twice/],
    [["--composition", "Ar=1=0.5", "--bar", "1", "--c", "20"], 2, /Ar.*mole fraction/],
    [["--composition", "Ar=0x1", "--bar", "1", "--c", "20"], 2, /Ar.*mole fraction/],
    [["--gas", "I1-Ar", "--bar", "0x10", "--c", "20"], 2, /--bar is "0x10"/],
    [["--gas", "I1-Ar", "--bar", "1e400", "--c", "20"], 2, /--bar is "1e400"/],
    [["I1-Ar"], 2, /not an option/],
    [["--points", "missing.csv"], 2, /cannot read missing.csv/],
    [["--points", "a.csv", "--json"], 2, /--points stands alone/],
    [["--gas", "I1-Ar", "--bar", "1", "--c", "20", "--litres", "0"], 2, /--litres is 0/],
  ])("%o", (args, code, message) => {
    const result = run(args);
    expect(result.code).toBe(code);
    expect(result.errors).toMatch(message);
  });
});

describe("leeward gas --points", () => {
  const text = readFileSync(reference, "utf8");

  test("all 252 reference rows, in order, at full precision", () => {
    const { code, output, errors } = run(["--points", "points.csv"], { "points.csv": text });
    expect([code, errors]).toEqual([0, ""]);
    const lines = output.trimEnd().split("\n");
    expect(lines[0]).toBe(
      "x_Ar,x_CO2,x_He,x_N2,x_O2,x_H2,T_K,P_kPa,Z,density_mol_per_L,h_J_per_mol,cp_J_per_mol_K,cv_J_per_mol_K,JT_K_per_kPa,speed_of_sound_m_s",
    );
    const expected = text.split("\n").filter((line) => line !== "" && !/^(#|gas,)/.test(line));
    expect(lines.length - 1).toBe(expected.length);
    for (const [k, line] of expected.entries()) {
      const wanted = line.split(",").slice(1);
      const actual = (lines[k + 1] ?? "").split(",");
      expect(actual.slice(0, 8)).toEqual(wanted.slice(0, 8));
      for (let column = 8; column < 15; column++) {
        const tolerance = column < 10 ? 1e-10 : 1e-9;
        const difference = Number(actual[column]) - Number(wanted[column]);
        const allowed = column === 10 ? 1e-4 : tolerance * Math.abs(Number(wanted[column]));
        expect(Math.abs(difference)).toBeLessThan(allowed);
      }
    }
  });

  test("columns may stand anywhere, others are ignored, comments and blank lines skipped", () => {
    const file = [
      "# a comment",
      "note,P_kPa,T_K,x_H2,x_O2,x_N2,x_He,x_CO2,x_Ar",
      "",
      '"first, with a comma and ""quotes""",2000,253.15,0,0,0,0,0,1',
      "# another",
      "second,101.325,253.15,0,0,0,0,0,1",
    ].join("\r\n");
    const { code, output } = run(["--points", "f"], { f: file });
    expect(code).toBe(0);
    const lines = output.trimEnd().split("\n");
    expect(lines).toHaveLength(3);
    expect(lines[1]).toMatch(/^1,0,0,0,0,0,253\.15,2000,0\.9749375436628/);
    expect(lines[2]).toMatch(/^1,0,0,0,0,0,253\.15,101\.325,0\.99869598519445/);
  });

  test("a bad row keeps its place, empty, and says why with its line", () => {
    const file = [
      "x_Ar,x_CO2,x_He,x_N2,x_O2,x_H2,T_K,P_kPa",
      "1,0,0,0,0,0,300,100",
      "0.5,0,0,0,0,0,300,100",
      "1,0,0,0,0,0,abc,100",
      "0,1,0,0,0,0,280,9000",
      "1,0,0,0,0,0,300,200",
    ].join("\n");
    const { code, output, errors } = run(["--points", "f.csv"], { "f.csv": file });
    expect(code).toBe(1);
    const lines = output.trimEnd().split("\n");
    expect(lines).toHaveLength(6);
    expect(lines[2]).toBe("0.5,0,0,0,0,0,300,100,,,,,,,");
    expect(lines[3]).toBe("1,0,0,0,0,0,abc,100,,,,,,,");
    expect(lines[5]).toMatch(/^1,0,0,0,0,0,300,200,0\.99/);
    expect(errors).toMatch(/f\.csv line 3: GAS_FRACTION_SUM/);
    expect(errors).toMatch(/f\.csv line 4: UNIT_PARSE: T_K is "abc"/);
    expect(errors).toMatch(/f\.csv line 5: GAS_NOT_VAPOUR/);
  });

  const head = "x_Ar,x_CO2,x_He,x_N2,x_O2,x_H2,T_K,P_kPa";

  test("a quote that is not closed gives no answer, not a number with a digit less", () => {
    const rows = ['"1",0,0,0,0,0,"253.15",100', '1,0,0,0,0,0,"253.15,100', '1,0,0,0,0,0,"25"3,100'];
    const file = [head, ...rows].join("\n");
    const { code, output, errors } = run(["--points", "f"], { f: file });
    expect(code).toBe(1);
    const lines = output.trimEnd().split("\n");
    expect(lines).toHaveLength(4);
    expect(lines[1]).toMatch(/^1,0,0,0,0,0,253\.15,100,0\.99/);
    expect(lines[2]).toMatch(/,,,,,,,$/);
    expect(errors).toMatch(/f line 3: .*quote/);
    expect(errors).toMatch(/f line 4: .*quote/);
  });

  test("decimal commas shift the columns: refused", () => {
    const file = [head, "1,0,0,0,0,0,253,15,101,325", "1,0,0,0,0,0,300,100,,"].join("\n");
    const { code, output, errors } = run(["--points", "f"], { f: file });
    expect(code).toBe(1);
    expect(errors).toMatch(/f line 2: .*10 cells, the header 8/);
    expect(output.trimEnd().split("\n")[2]).toMatch(/^1,0,0,0,0,0,300,100,0\.99/);
  });

  test("a cell with a comma keeps its quotes; hexadecimal and missing cells are refused", () => {
    const rows = ['1,0,0,0,0,0,"253,15",100', "1,0,0,0,0,0,0x100,100", "1,0,0,0,0,0,300"];
    const { code, output, errors } = run(["--points", "f"], { f: [head, ...rows].join("\n") });
    expect(code).toBe(1);
    const lines = output.trimEnd().split("\n");
    expect(lines[1]).toBe('1,0,0,0,0,0,"253,15",100,,,,,,,');
    expect(lines[2]).toBe("1,0,0,0,0,0,0x100,100,,,,,,,");
    expect(lines[3]).toBe("1,0,0,0,0,0,300,,,,,,,,");
    expect(errors.trimEnd().split("\n")).toHaveLength(3);
  });

  test.each(["\n", "\r\n", "\r"])("line ends %j, a byte order mark in front", (end) => {
    const file = `\uFEFF${[head, "1,0,0,0,0,0,300,100", ""].join(end)}`;
    const { code, output } = run(["--points", "f"], { f: file });
    expect(code).toBe(0);
    expect(output.trimEnd().split("\n")[1]).toMatch(/^1,0,0,0,0,0,300,100,0\.99/);
  });

  test("more compositions than are kept ready", () => {
    const rows = Array.from({ length: 210 }, (_, k) => `${1 - k / 420},${k / 420},0,0,0,0,300,100`);
    const { code, output } = run(["--points", "f"], { f: [head, ...rows, rows[0]].join("\n") });
    expect(code).toBe(0);
    const lines = output.trimEnd().split("\n");
    expect(lines).toHaveLength(212);
    expect(lines[211]).toBe(lines[1]);
  });

  test("a column that stands twice is named", () => {
    const { code, errors } = run(["--points", "f"], {
      f: `${head},T_K\n1,0,0,0,0,0,300,100,400\n`,
    });
    expect([code, errors]).toEqual([2, expect.stringMatching(/column T_K twice/)]);
  });

  test("a missing column is named", () => {
    const { code, errors } = run(["--points", "f"], { f: "x_Ar,T_K\n1,300\n" });
    expect(code).toBe(2);
    expect(errors).toMatch(/no column x_CO2, x_He, x_N2, x_O2, x_H2, P_kPa/);
  });
});
