import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import {
  explain,
  explainedFields,
  explainedSources,
  fieldsOfTile,
} from "../../../dashboard/display/explain.ts";
import { explain as english } from "../../../dashboard/language/english/explain.ts";
import { exampleEstimate, exampleStation, exampleView } from "./examples.ts";

const bibliography = readFileSync(
  new URL("../../../shared-core/sources.bib", import.meta.url),
  "utf8",
);

describe("how a figure came about", () => {
  test("every figure is explained in every mode, with words for it", () => {
    for (const mode of ["flowing", "idle", "valve-closed", "unknown", "silent"] as const) {
      const view = exampleView(exampleEstimate({ mode }));
      for (const field of explainedFields) {
        const { method, readings } = explain(view, field, false);
        expect(english.methods[method].length, `${field} when ${mode}`).toBeGreaterThan(10);
        for (const reading of readings) expect(english.readings[reading]).toBeTruthy();
      }
    }
  });

  test("sources are those of the bibliography", () => {
    for (const key of Object.keys(explainedSources)) expect(bibliography).toContain(`{${key},`);
  });

  test("the flow's way is that of its basis", () => {
    const by = (basis: string) =>
      explain(exampleView(exampleEstimate({ flow: { lpm: 8, basis } })), "flow", false).method;
    expect(by("line-pressure")).toBe("flow-line");
    expect(by("cylinder")).toBe("flow-cylinder");
    expect(by("meter")).toBe("flow-meter");
  });

  test("a value that is not known is explained by its reason, not by a way to compute it", () => {
    const estimate = exampleEstimate({ flow: { lpm: null, why: "gas-on for 4 s only" } });
    const { method, why } = explain(exampleView(estimate), "flow", false);
    expect(method).toBe("unknown");
    expect(why).toBe("gas-on for 4 s only");
  });

  test("time left says whether it counts the present flow or what the weld needs", () => {
    const minutes = (median: number) => ({ median, low: median, high: median });
    const remaining = (now: number, target: number) =>
      exampleEstimate({
        remaining: {
          gasOnMinutes: minutes(now),
          atTargetMinutes: minutes(target),
          clockMinutes: minutes(100),
        },
      });
    expect(explain(exampleView(remaining(60, 90)), "left", false).method).toBe("left-now");
    expect(explain(exampleView(remaining(90, 60)), "left", false).method).toBe("left-target");
  });

  test("liquid CO2: its pressure is not the way to its content", () => {
    expect(explain(exampleView(), "content", true).method).toBe("content-liquid");
  });

  test("without a line sensor no line pressure is named", () => {
    const { line: _line, ...sensors } = exampleStation().sensors ?? {};
    const view = exampleView(exampleEstimate(), exampleStation({ sensors: sensors as never }));
    expect(explain(view, "flow", false).readings).not.toContain("line-pressure");
  });

  test("a reading that is missing is said to be so", () => {
    const measured = { cylinderPa: 88e5, linePa: null, cylinderC: 14, ambientC: 18, arc: null };
    const view = exampleView(exampleEstimate({ measured }));
    expect(explain(view, "line-pressure", false).method).toBe("measured-none");
  });

  test("an idle tile explains the flow to come", () => {
    expect(fieldsOfTile(exampleEstimate({ mode: "idle" }))[0]).toBe("next");
    expect(fieldsOfTile(exampleEstimate())[0]).toBe("flow");
  });
});
