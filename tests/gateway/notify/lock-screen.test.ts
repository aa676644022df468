import type { StationSnapshot } from "@leeward/shared-core/alarms/condition.ts";
import { alarmConditions } from "@leeward/shared-core/alarms/index.ts";
import { alarmLanguages } from "@leeward/shared-core/alarms/language/index.ts";
import { metricSayUnits, sayAlarm } from "@leeward/shared-core/alarms/language/say.ts";
import { describe, expect, it } from "vitest";
import type { Occurrence } from "../../../gateway/alarms/states.ts";
import { lineLimit, lockScreenLine } from "../../../gateway/notify/lock-screen.ts";
import { composeMessage } from "../../../gateway/notify/plan.ts";
import { exampleStation, t0 } from "../support.ts";
import { settingsFor } from "./notify-bench.ts";

const station = (confined: boolean) =>
  exampleStation({
    name: "Slipway 2",
    place: { roomM3: 60, airChangesPerHour: 0, confined },
    regulator: { stages: 1, adjust: "screw", deliveryBar: 3.45, maxLineBar: 8, highSideMl: 20 },
  });

/** Everything wrong at once, so that each condition has all its values to tell. */
const moment = (confined: boolean): StationSnapshot => ({
  t: t0 + 2000,
  station: station(confined),
  supply: null,
  localHour: 12,
  mode: "idle",
  gasOnSince: null,
  gasOffSince: t0,
  flow: { meanLpm: 4, sigmaLpm: 0.1 },
  expectedFlow: { meanLpm: 11, sigmaLpm: 0.1 },
  demand: { minimumLpm: 6, targetLpm: 8, maximumLpm: 10 },
  content: { meanL: 1200, sigmaL: 20, usableL: 900, fullL: 10_000, liquid: false },
  remainingMinutes: { median: 14, sigma: 1 },
  usePerDayL: 500,
  cylinderPa: 9e5,
  linePa: 7.7e5,
  cylinderK: 291,
  regulatorK: 265,
  ambientK: 291,
  arc: null,
  arcSince: null,
  idleLine: {
    since: t0,
    trendPaPerS: 150,
    trendSigmaPaPerS: 5,
    heatPaPerS: 2,
    thawing: false,
    forecastPa: 7.9e5,
  },
  expectedLinePa: 3.4e5,
  bodyForecastK: 262,
  leak: { meanLpm: 0.12, sigmaLpm: 0.01, side: null },
  lastReDial: { t: t0, ratio: 1.4 },
  lastSwap: { t: t0 + 100 },
  faults: [{ channel: "line-pressure", fault: "stuck", since: t0 }],
  usualSpellS: { p99: 200, count: 50 },
  purge: null,
  job: null,
  supplyVoltage: 4.2,
  node: { silentSince: t0, clockWrong: true, configError: "pace.idleS must lie between 1 and 300" },
  indicated: { reading: 8, unit: "L/min" },
  dialTo: { reading: 12.6, unit: "L/min" },
  belowHoldPressure: true,
  backPressure: { ratio: 1.5, sigma: 0.05 },
  gasDoubt: { probability: 0.97, looksLike: "argon with 25 % CO2" },
  icing: { probability: 0.6, withinS: 600 },
  calibrationDueT: t0 - 86_400 * 3,
});

/** What a first step begins with (English, Spanish) or holds (German: an infinitive) where it tells somebody to do a thing. */
const imperative = {
  en: /^(Stop|Close|Change|Bring|Press|Turn|Pause|Look|Check|Clean|Watch|Test|See|Correct|Do not|Start|Go by|Plan|Raise|Ask)\b/,
  de: /\b(abbrechen|schließen|wechseln|holen|drücken|stellen|machen|sehen|prüfen|reinigen|behalten|bereitstellen|berichtigen|weiterschweißen|hineingehen|lesen|richten|fragen|Anhalten|Prüfen)\b/,
  es: /^(Corte|Cierre|Cambie|Traiga|Pulse|Gire|Vuelva|Haga|Vaya|Revise|Limpie|Vigile|Pruebe|Compruebe|Corrija|No |Deje|Pare|Prevea|Tenga|Pregunte|Ponga)/,
};

const languages = ["en", "de", "es"] as const;
const cases = alarmConditions.flatMap((condition) =>
  languages.flatMap((language) =>
    [false, true].map((confined) => ({ id: condition.condition, condition, language, confined })),
  ),
);

describe("one line on a lock screen", () => {
  it.each(cases)("$id, $language, confined $confined: station, what, and what to do", (one) => {
    const { condition, language, confined } = one;
    const now = {
      ...moment(confined),
      ...(condition.condition === "gas-left-on"
        ? { mode: "flowing" as const, gasOnSince: t0 - 3000 }
        : {}),
    };
    const occasion = { since: t0 - 100, priority: condition.priority, hidden: ["leak"] };
    const said = condition.describe(now, occasion);
    const own = sayAlarm(said, alarmLanguages[language], metricSayUnits)!;
    const english = sayAlarm(said, alarmLanguages.en, metricSayUnits)!;
    const context = (of: "en" | "de" | "es") => ({
      settings: settingsFor([{ kind: "mqtt" }]),
      timeZone: "UTC",
      language: of,
      station: () => ({ name: "Slipway 2", node: null }),
    });
    const occurrence = {
      id: "x",
      site: "north",
      station: "bay-3",
      condition: condition.condition,
      priority: condition.priority,
      since: t0,
      said,
    };
    const bySite = composeMessage(
      { ...occurrence, title: own.title, advice: own.advice } as unknown as Occurrence,
      context(language),
      t0,
      language,
    ).line;
    // A contact with another language than the site's gets the same line.
    const other = language === "en" ? "de" : "en";
    const byContact = composeMessage(
      { ...occurrence, title: english.title, advice: english.advice } as unknown as Occurrence,
      context(other),
      t0,
      language,
    ).line;
    expect(byContact).toBe(bySite);
    expect(bySite.length).toBeLessThanOrEqual(lineLimit);
    expect(bySite.startsWith("Slipway 2: ")).toBe(true);
    // The whole first sentence stands at the end, and it tells somebody to do something.
    expect(bySite.endsWith(` ${own.firstStep}`)).toBe(true);
    expect(own.firstStep).toMatch(/[.?]$/);
    expect(own.firstStep).toMatch(imperative[language]);
    // A title that is cut ends between two words.
    const title = bySite.slice("Slipway 2: ".length, -own.firstStep.length - 1);
    const kept = title.replace(/[….]$/, "");
    expect(own.title.startsWith(kept)).toBe(true);
    expect(own.title.slice(kept.length)).toMatch(/^($|[\s,;:.–])/);
  });

  it("a line that rises: the valve first, whatever the language", () => {
    for (const id of ["regulator-creep", "line-pressure-high"]) {
      const condition = alarmConditions.find((one) => one.condition === id)!;
      const said = condition.describe(moment(true), { since: t0, priority: "high", hidden: [] });
      const first = languages.map(
        (language) => sayAlarm(said, alarmLanguages[language], metricSayUnits)?.firstStep,
      );
      expect(first).toEqual([
        "Close the cylinder valve.",
        "Das Flaschenventil schließen.",
        "Cierre la válvula de la botella.",
      ]);
    }
  });

  it("never ends in the middle of a word, and keeps what to do", () => {
    const title = "Leitungsdruck steigt bei geschlossenem Brenner ".repeat(6).trim();
    const line = lockScreenLine("Halle 3", title, "Das Flaschenventil schließen.");
    expect(line.length).toBeLessThanOrEqual(lineLimit);
    expect(line).toMatch(
      /^Halle 3: (Leitungsdruck|steigt|bei|geschlossenem|Brenner| )+… Das Flaschenventil schließen\.$/,
    );
    const step = "Jetzt eine volle Flasche holen und dabei ".repeat(6).trim();
    expect(lockScreenLine("Halle 3", "Gas geht aus", step)).toMatch(
      / (Jetzt|eine|volle|Flasche|holen|und|dabei)…$/,
    );
  });
});
