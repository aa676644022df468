import { existsSync, readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { chips, watchingContent, watchingFlow } from "./energy.ts";
import { errorBudget } from "./error-budget.ts";
import { computedTables, pageUrl, tableIn } from "./pages.ts";
import { gaugeBarAt } from "./pressure-ratings.ts";

describe("the hardware notes", () => {
  it.each(computedTables)("$page says what is computed: $name", ({ page, name, table }) => {
    expect(tableIn(readFileSync(pageUrl(page), "utf8"), name)).toBe(table());
  });

  it("link to what is there", () => {
    const folder = pageUrl("");
    for (const page of readdirSync(folder).filter((name) => name.endsWith(".md"))) {
      const text = readFileSync(new URL(page, folder), "utf8");
      for (const [, target = ""] of text.matchAll(/\]\(([^)#:]+)(?:#[^)]*)?\)/g)) {
        expect(existsSync(new URL(target, folder)), `${page}: ${target}`).toBe(true);
      }
    }
  });
});

describe("the error budget", () => {
  it("agrees with hand arithmetic for argon", () => {
    const { rows, flowUncalibrated, contentUncalibrated } = errorBudget();
    const flowOf = (source: string) => rows.find((row) => row.source.startsWith(source))?.flow ?? 0;
    // 0.5 % of 10 bar over √3, against 4.463 bar absolute.
    expect(flowOf("P2 accuracy")).toBeCloseTo(0.05e5 / Math.sqrt(3) / 446_325, 6);
    // 5 K over √3, half of it relative to 293.15 K.
    expect(flowOf("gas temperature")).toBeCloseTo(0.00492, 4);
    expect(flowUncalibrated).toBeGreaterThan(flowOf("P2 accuracy"));
    expect(flowUncalibrated).toBeLessThan(0.02);
    expect(contentUncalibrated).toBeLessThan(0.02);
  });

  it("knows how much hotter gas presses: argon 7.4 psi/°F at 2640 psig, 75/25 9.4", () => {
    // docs/physics.md and the trade's tables: slope of a closed cylinder near 70 °F.
    const psi = 0.0689476;
    const filled = 2640 * psi;
    const slope = (composition: Record<string, number>) => {
      const hot = gaugeBarAt(composition, filled, 21.1, 22.1);
      return (hot - gaugeBarAt(composition, filled, 21.1, 20.1)) / 3.6 / psi;
    };
    expect(slope({ Ar: 1 })).toBeCloseTo(7.4, 1);
    expect(slope({ Ar: 0.75, CO2: 0.25 })).toBeCloseTo(9.4, 1);
  });
});

describe("battery life", () => {
  it("is days while flow is watched, and months for content alone", () => {
    for (const chip of chips) {
      expect(watchingFlow(chip).days).toBeLessThan(7);
      expect(watchingContent(chip, 900, 3600).days).toBeGreaterThan(180);
      expect(watchingContent(chip, 1800, 21_600).days).toBeGreaterThan(
        watchingContent(chip, 900, 3600).days,
      );
    }
  });
});
