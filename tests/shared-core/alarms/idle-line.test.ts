import type { StationSnapshot } from "@leeward/shared-core/alarms/condition.ts";
import { createAlarmEvaluator } from "@leeward/shared-core/alarms/evaluator.ts";
import { bleedAdvice } from "@leeward/shared-core/alarms/idle-line-advice.ts";
import { alarmLanguages } from "@leeward/shared-core/alarms/language/index.ts";
import { metricSayUnits, sayAlarm } from "@leeward/shared-core/alarms/language/say.ts";
import { describe, expect, test } from "vitest";
import {
  firstShown,
  flowing,
  idsAtEnd,
  lastOf,
  run,
  snapshot,
  start,
  station,
} from "./bench-station.ts";

/** 1 bar/min in Pa/s. */
const barPerMinute = 1e5 / 60;

const line = (change: Partial<NonNullable<StationSnapshot["idleLine"]>> = {}) => ({
  idleLine: {
    since: start - 3600,
    trendPaPerS: 0,
    trendSigmaPaPerS: 2,
    heatPaPerS: 3,
    thawing: false,
    forecastPa: 3.9e5,
    ...change,
  },
});

describe("an idle line, told apart", () => {
  test("a line left under pressure with the valve open is no alarm", () => {
    expect(run(36_000, () => snapshot(line()), 15).log.flat()).toEqual([]);
  });
  test("trapped: valve closed, line not bled; low, after 10 min", () => {
    const { log } = run(700, () => snapshot({ mode: "valve-closed", ...line() }));
    expect(firstShown(log, "trapped-line-pressure")).toBe(600);
    const alarm = lastOf(log, "trapped-line-pressure");
    expect(alarm).toMatchObject({
      priority: "low",
      title: "3.6 bar left in the line with the valve closed",
    });
    expect(alarm?.advice).toContain(
      "Heat alone should bring it to 3.9 bar today, below the limit of 8 bar.",
    );
  });
  test("bleeding ends it", () => {
    const { log } = run(800, (i) =>
      snapshot({ mode: "valve-closed", ...line(), ...(i > 700 ? { linePa: 0 } : {}) }),
    );
    expect(idsAtEnd(log)).toEqual([]);
  });
  test("heating: explained by heat, but on its way to the limit today", () => {
    const { log } = run(300, () =>
      snapshot(line({ trendPaPerS: 10, heatPaPerS: 12, forecastPa: 7.6e5 })),
    );
    const alarm = lastOf(log, "trapped-line-pressure");
    expect(alarm).toMatchObject({
      priority: "medium",
      title: "Line warms: 3.6 bar now, could reach 7.6 bar today",
    });
    expect(idsAtEnd(log)).toEqual(["trapped-line-pressure"]);
  });
  test("heating to the limit is raised at least 10 min before it is reached", () => {
    // A line in the sun: 3.6 bar now, 1 K a minute, which lifts 4.6 bar absolute by 0.016 bar/min;
    // here ten times that, so that the limit is really reached.
    const rate = 0.16 * barPerMinute;
    const { log } = run(1800, (i) =>
      snapshot({
        linePa: 3.6e5 + rate * i,
        ...line({ trendPaPerS: rate, heatPaPerS: rate * 1.1, forecastPa: 9e5 }),
      }),
    );
    const reached = (8e5 - 3.6e5) / rate;
    const raised = firstShown(log, "trapped-line-pressure") ?? Number.POSITIVE_INFINITY;
    expect(reached - raised).toBeGreaterThan(600);
    expect(lastOf(log, "line-pressure-high")?.priority).toBe("high");
  });
  test("creep of 0.05 bar/min within 5 min of idle", () => {
    const { log } = run(600, (i) =>
      i < 60
        ? flowing()
        : snapshot(
            line({ since: start + 60, trendPaPerS: 0.05 * barPerMinute, trendSigmaPaPerS: 8 }),
          ),
    );
    expect((firstShown(log, "regulator-creep") ?? 999) - 60).toBeLessThanOrEqual(300);
  });
  test("lock-up after the torch closes is no creep", () => {
    const { log } = run(600, (i) => {
      const idle = i % 120;
      return idle < 60
        ? flowing({ gasOnSince: start + i - idle })
        : snapshot(
            line({
              since: start + i - idle + 60,
              trendPaPerS: 800 * Math.exp(-(idle - 60) / 15),
              trendSigmaPaPerS: 20,
            }),
          );
    });
    expect(log.flat()).toEqual([]);
  });
  test("a steep rise during lock-up foretells nothing", () => {
    const { log } = run(100, () =>
      snapshot({ linePa: 6.5e5, ...line({ since: start, trendPaPerS: 900 }) }),
    );
    expect(log.flat()).toEqual([]);
  });
  test("opening the cylinder valve fills the line in a step: that is no creep", () => {
    const { log } = run(
      3600,
      (i) =>
        i < 600
          ? snapshot({ mode: "valve-closed", linePa: 0, idleLine: null })
          : snapshot(
              line({ trendPaPerS: 2000 * Math.exp(-(i - 600) / 150), trendSigmaPaPerS: 20 }),
            ),
      15,
    );
    expect(log.flat()).toEqual([]);
  });
  test("heat explains its own rise", () => {
    const { log } = run(3600, () => snapshot(line({ trendPaPerS: 60, heatPaPerS: 70 })), 15);
    expect(log.flat()).toEqual([]);
  });
  test("a hose in the sun is no creep by day; the same rise by night is", () => {
    // 0.011 bar/min, as a dark hose on a quay shows it.
    const rise = line({ trendPaPerS: 0.011 * barPerMinute, heatPaPerS: 3 });
    const quay = (localHour: number) =>
      run(1800, () => snapshot({ ...rise, localHour, mode: "valve-closed" }), 15).log;
    expect(idsAtEnd(quay(14))).toEqual(["trapped-line-pressure"]);
    expect(idsAtEnd(quay(23))).toEqual(["regulator-creep"]);
  });
  test("a rise in doubt does not ring", () => {
    const { log } = run(3600, () => snapshot(line({ trendPaPerS: 80, trendSigmaPaPerS: 50 })), 15);
    expect(log.flat()).toEqual([]);
  });
  test("towards the limit it is urgent, latched in the life cycle and never called harmless", () => {
    const { log } = run(300, () =>
      snapshot({ linePa: 6.8e5, ...line({ trendPaPerS: 0.05 * barPerMinute }) }),
    );
    const alarm = lastOf(log, "regulator-creep");
    expect(alarm).toMatchObject({
      priority: "high",
      title:
        "Line pressure climbs with the torch closed: 0.05 bar a minute, at its limit in about 24 min",
    });
    expect(alarm?.advice).not.toMatch(/harmless|below the limit/);
    expect(alarm?.advice).toContain("take the regulator out of service");
  });
  test("while the body thaws the kind is unknown, with its reason", () => {
    const { log, evaluator } = run(600, () =>
      snapshot(line({ trendPaPerS: 90, thawing: true, heatPaPerS: 5, thawPaPerS: 150 })),
    );
    expect(log.flat()).toEqual([]);
    expect(evaluator.undecided()).toContainEqual({
      condition: "regulator-creep",
      why: expect.stringContaining("thawing"),
    });
  });
  test("unless the rise exceeds both bounds", () => {
    const { log } = run(600, () =>
      snapshot(line({ trendPaPerS: 200, thawing: true, heatPaPerS: 5, thawPaPerS: 150 })),
    );
    expect(idsAtEnd(log)).toContain("regulator-creep");
  });
  test("a rise beyond both bounds, but only up to where the line rested before the cold, is unknown too, over a restart", () => {
    const rest = (i: number): Partial<StationSnapshot> =>
      i < 60
        ? { mode: "flowing", gasOnSince: start, gasOffSince: null, linePa: 3.4e5, regulatorK: 285 }
        : { gasOffSince: start + 60, linePa: 3.9e5, regulatorK: 280 };
    const before = run(120, (i) => snapshot(rest(i))).evaluator;
    const thawed = (linePa: number) => {
      const evaluator = createAlarmEvaluator();
      evaluator.restore(JSON.parse(JSON.stringify(before.serialise())));
      let shown: string[] = [];
      for (let t = start + 120; t < start + 720; t++) {
        const idle = line({ trendPaPerS: 200, thawing: true, heatPaPerS: 5, thawPaPerS: 150 });
        const moment = snapshot({ ...idle, linePa, regulatorK: 255, t });
        shown = evaluator.step(moment).map(({ condition }) => condition);
      }
      return { shown, undecided: evaluator.undecided().map(({ condition }) => condition) };
    };
    expect(thawed(4e5).shown).toEqual([]);
    expect(thawed(4e5).undecided).toContain("regulator-creep");
    // A twentieth of 4.9 bar above 3.9 bar, gauge, and the rise is no way back any more.
    expect(thawed(4.2e5).shown).toContain("regulator-creep");
  });
  test("a thawing line near its limit rings whatever drives it, with no harmless forecast", () => {
    const { log } = run(120, () =>
      snapshot({
        linePa: 7e5,
        mode: "valve-closed",
        ...line({ trendPaPerS: 120, thawing: true, heatPaPerS: 5, forecastPa: 4e5 }),
      }),
    );
    const alarm = lastOf(log, "line-pressure-high");
    expect(alarm?.priority).toBe("high");
    expect(alarm?.advice).toContain("may still be thawing");
    expect(JSON.stringify(log)).not.toContain("Heat alone");
  });
  test("at the limit within seconds, idle or flowing", () => {
    for (const moment of [snapshot, flowing]) {
      const { log } = run(10, () => moment({ linePa: 7.8e5 }));
      expect(firstShown(log, "line-pressure-high")).toBe(2);
    }
  });
  test("no limit in the set-up: said, not guessed", () => {
    const bare = { ...station, regulator: { stages: 1 as const } };
    const { log, evaluator } = run(60, () => snapshot({ station: bare, linePa: 9e5 }));
    expect(log.flat()).toEqual([]);
    expect(evaluator.undecided()[0].why).toContain("maxLineBar");
  });
  test("no line sensor, no claim", () => {
    expect(run(60, () => snapshot({ linePa: null, idleLine: null })).log.flat()).toEqual([]);
  });
});

describe("advice for the idle line", () => {
  const adviceFor = (change: Partial<StationSnapshot>) =>
    lastOf(
      run(700, () => snapshot({ mode: "valve-closed", ...line(), ...change })).log,
      "trapped-line-pressure",
    )?.advice ?? "";
  test("is complete and in a safe order", () => {
    const advice = adviceFor({});
    const steps = [
      "Close the cylinder valve",
      "gas test or purge button",
      "never with the trigger while the power source is on",
      "Watch the line fall to 0",
      "back the adjusting screw off",
      "confined space",
      "climbs again with the valve closed, take the regulator out of service",
    ];
    let at = -1;
    for (const step of steps) {
      const next = advice.indexOf(step);
      expect(next, step).toBeGreaterThan(at);
      at = next;
    }
  });
  test("a valve that reads closed is not told to be closed as if it stood open", () => {
    expect(adviceFor({})).toMatch(/^Close the cylinder valve if it is not quite shut\. /);
    expect(bleedAdvice(station).of).toMatchObject({ closed: false });
  });
  test.each([
    [
      "en",
      /Let the gas out/,
      /take regulator and hose outside, or ventilate the place and test its air first/,
      /licensed practice .* come first/,
    ],
    [
      "de",
      /Gas mit dem Gastest .* ablassen|kein Gas ablassen/,
      /Druckminderer und Schlauch ins Freie bringen, oder den Raum lüften und erst die Luft messen/,
      /Vorschriften und die Freigabe .* gehen vor/,
    ],
    [
      "es",
      /Deje salir el gas|No suelte gas/,
      /saque fuera el manorreductor y la manguera, o ventile el lugar y mida antes el aire/,
      /permiso .* van primero/,
    ],
  ] as const)(
    "a confined place: where else the pressure comes off, and nobody is told to let gas out there (%s)",
    (language, lets, where, rules) => {
      const confined = { ...station, place: { confined: true } };
      const said = sayAlarm(
        { title: [], advice: [bleedAdvice(confined)] },
        alarmLanguages[language],
        metricSayUnits,
      );
      expect(said?.advice).not.toMatch(lets);
      expect(said?.advice).toMatch(where);
      expect(said?.advice).toMatch(rules);
      const open = sayAlarm(
        { title: [], advice: [bleedAdvice(station)] },
        alarmLanguages[language],
        metricSayUnits,
      );
      expect(open?.advice).toMatch(lets);
      expect(open?.advice).not.toMatch(where);
    },
  );
  test("a preset regulator has no screw to back off", () => {
    const preset = { ...station, regulator: { ...station.regulator, adjust: "preset" } };
    expect(adviceFor({ station: preset as StationSnapshot["station"] })).not.toContain("screw");
  });
  test("a confined space is named", () => {
    expect(adviceFor({ station: { ...station, place: { confined: true } } })).toContain(
      "do not let gas out in it",
    );
  });
  test("in psi where the device reads CFH", () => {
    const american = { ...station, flowDevice: { ...station.flowDevice, readingUnit: "CFH" } };
    const { log } = run(700, () =>
      snapshot({
        mode: "valve-closed",
        ...line(),
        station: american as StationSnapshot["station"],
      }),
    );
    // 3.6 bar = 52.2 psi (NIST SP 811).
    expect(lastOf(log, "trapped-line-pressure")?.title).toBe(
      "52.2 psi left in the line with the valve closed",
    );
  });
});
