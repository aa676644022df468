import { expect, test } from "vitest";
import { metricUnits } from "../../../dashboard/display/units.ts";
import { estimatedFigures } from "../../../dashboard/station/figure-lists.ts";
import { german } from "../../../shared-core/alarms/language/german.ts";
import { reasonIn } from "../../../shared-core/alarms/language/say.ts";
import { spanish } from "../../../shared-core/alarms/language/spanish.ts";
import { exampleEstimate, exampleView } from "../display/examples.ts";

const why = "told as full, but it was fitted at 120 bar: the content follows the pressure";
const content = { litres: 5000, low: 4900, high: 5100, usableLitres: 4500 };
const contentFigure = (doubt: { why?: string }) =>
  estimatedFigures(
    exampleView(exampleEstimate({ content: { ...content, ...doubt } })),
    metricUnits,
  ).find(({ field }) => field === "content");

test("a doubted content shows its interval and why it is doubted", () => {
  const figure = contentFigure({ why });
  expect(figure?.why).toBe(why);
  expect(figure?.note).toBe(contentFigure({})?.note);
  expect(figure?.note).toMatch(/\d/);
  expect(contentFigure({})?.why).toBeUndefined();
});

test("why a told fill is doubted is said in German and Spanish too", () => {
  for (const language of [german, spanish]) {
    const said = reasonIn(why, language);
    expect(said).not.toBe(why);
    expect(said).toContain("120 bar");
  }
});
