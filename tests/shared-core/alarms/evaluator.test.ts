import type { AlarmCondition, StationSnapshot } from "@leeward/shared-core/alarms/condition.ts";
import { createAlarmEvaluator } from "@leeward/shared-core/alarms/evaluator.ts";
import { alarmConditions } from "@leeward/shared-core/alarms/index.ts";
import { says } from "@leeward/shared-core/alarms/language/said.ts";
import { active, hold, normal } from "@leeward/shared-core/alarms/verdicts.ts";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { firstShown, flowing, idsAtEnd, run, snapshot, start } from "./bench-station.ts";

/** A condition driven by the supply voltage: 1 holds, 0 does not, 2 is a hold, null unknown. */
function probe(change: Partial<AlarmCondition> = {}): AlarmCondition {
  return {
    condition: "probe",
    title: "Probe",
    cause: "c",
    consequence: "c",
    operatorAction: "o",
    timeToRespond: "t",
    priority: "low",
    limit: "l",
    deadband: "d",
    onDelayS: 5,
    offDelayS: 10,
    delayReason: "r",
    suppresses: [],
    alarmClass: "equipment",
    latched: false,
    scope: "station",
    holdS: 100,
    evaluate: ({ supplyVoltage: v }) =>
      v === null ? null : v === 2 ? hold : v === 1 ? active : normal,
    describe: () => ({ title: [says("on-reserve")], advice: [says("change-empty-side")] }),
    ...change,
  };
}

/** Plays values one second apart and gives the seconds at which the probe shows. */
function play(values: (number | null)[], conditions = [probe()]): number[] {
  const evaluator = createAlarmEvaluator(conditions);
  return values.flatMap((supplyVoltage, i) =>
    evaluator
      .step(snapshot({ t: start + i, supplyVoltage }))
      .some((alarm) => alarm.condition === "probe")
      ? [i]
      : [],
  );
}

const times = (count: number, value: number | null) => Array.from({ length: count }, () => value);
const range = (from: number, to: number) => Array.from({ length: to - from }, (_, i) => from + i);

describe("delays", () => {
  test("shows after the on-delay, goes after the off-delay", () => {
    expect(play([...times(2, 0), ...times(10, 1), ...times(20, 0)])).toEqual(range(7, 22));
  });
  test("a condition shorter than its on-delay never shows", () => {
    expect(play([...times(5, 1), 0, ...times(5, 1), 0])).toEqual([]);
  });
  test("an interruption shorter than the off-delay does not end it", () => {
    expect(play([...times(6, 1), ...times(9, 0), 1, ...times(9, 0), 1])).toEqual(range(5, 26));
  });
  test("a hold stops the on-delay and goes on where it left off", () => {
    expect(play([...times(4, 1), ...times(30, 2), ...times(4, 1)])).toEqual([36, 37]);
  });
  test("a hold longer than holdS counts as normal", () => {
    const shown = play([...times(6, 1), ...times(150, 2)]);
    expect(shown[0]).toBe(5);
    expect(shown.at(-1)).toBe(105);
  });
  test("missing data never end an alarm", () => {
    expect(play([...times(6, 1), ...times(500, null)]).length).toBe(501);
  });
  test("missing data end what is still on its way after a minute", () => {
    expect(play([...times(5, 1), ...times(70, null), ...times(2, 1)])).toEqual([]);
  });
  test("since is when the condition became true, before its delay", () => {
    const evaluator = createAlarmEvaluator([probe()]);
    let last = evaluator.step(snapshot({ t: start, supplyVoltage: 0 }));
    for (let i = 1; i <= 20; i++)
      last = evaluator.step(snapshot({ t: start + i, supplyVoltage: 1 }));
    expect(last[0].since).toBe(start + 1);
  });
  test("a gap in the samples counts at most 120 s", () => {
    const evaluator = createAlarmEvaluator([probe({ onDelayS: 600 })]);
    evaluator.step(snapshot({ t: start, supplyVoltage: 1 }));
    expect(evaluator.step(snapshot({ t: start + 7200, supplyVoltage: 1 }))).toEqual([]);
  });
  test("what a node kept while it was silent counts in its own time", () => {
    const evaluator = createAlarmEvaluator();
    const at = (t: number, change: Partial<StationSnapshot>) =>
      evaluator.step(snapshot({ t: start + t, ...change })).map(({ condition }) => condition);
    const broken = {
      faults: [{ channel: "line-pressure", fault: "open-circuit", since: start + 12 }],
    };
    for (let t = 0; t <= 10; t += 2) at(t, {});
    const node = { ...snapshot().node, silentSince: start + 10 };
    expect(at(190, { mode: "silent", node })).toEqual(["node-silent"]);
    // The silence is over: the node brings the three minutes in which nobody heard it.
    for (let t = 12; t <= 20; t += 2) at(t, broken);
    expect(at(22, broken)).toContain("sensor-fault");
    for (let t = 24; t <= 80; t += 2) expect(at(t, {}), String(t)).toContain("sensor-fault");
    expect(at(82, {})).toContain("sensor-fault");
    expect(at(84, {})).not.toContain("sensor-fault");
  });
  test("a step back in time adds nothing and does not throw", () => {
    const evaluator = createAlarmEvaluator([probe()]);
    evaluator.step(snapshot({ t: start, supplyVoltage: 1 }));
    expect(evaluator.step(snapshot({ t: start - 500, supplyVoltage: 1 }))).toEqual([]);
  });
});

describe("suppression by design", () => {
  const slow = probe({ condition: "slow", suppresses: ["probe"], onDelayS: 20 });
  test("what an active condition explains is left out and listed", () => {
    const evaluator = createAlarmEvaluator([
      probe(),
      probe({ condition: "cause", suppresses: ["probe"] }),
    ]);
    for (let i = 0; i < 10; i++) evaluator.step(snapshot({ t: start + i, supplyVoltage: 1 }));
    expect(evaluator.suppressed()).toEqual([{ condition: "probe", by: "cause", since: start }]);
  });
  test("what is about to explain it holds it back, so that one alarm rings and not two", () => {
    expect(play(times(40, 1), [probe(), slow])).toEqual([]);
  });
  test("but not for longer than its own delay", () => {
    const never = probe({
      condition: "never",
      suppresses: ["probe"],
      onDelayS: 20,
      evaluate: (s) => (s.t % 10 === 0 ? normal : active),
    });
    const shown = play(times(60, 1), [probe(), never]);
    // It is held back while the other is on its way, and shows once that one falls away.
    expect(shown.length).toBeGreaterThan(0);
    expect(shown[0]).toBeLessThanOrEqual(25);
  });
  test("what is over when nothing explains it any more does not show for its off-delay", () => {
    const cause = probe({ condition: "cause", suppresses: ["probe"], onDelayS: 0, offDelayS: 0 });
    const values = [...times(10, 1), ...times(20, 0), ...times(8, 1)];
    expect(play(values, [probe(), cause])).toEqual([]);
    // What goes on shows as soon as its explanation is gone, and so does what nobody can judge any more.
    const ends = {
      ...cause,
      evaluate: (s: StationSnapshot) => (s.t < start + 10 ? active : normal),
    };
    expect(play(times(20, 1), [probe(), ends])).toEqual(range(10, 20));
    expect(play([...times(10, 1), ...times(10, null)], [probe(), ends])).toEqual(range(10, 20));
  });
  test("an empty cylinder explains the low flow", () => {
    const { log, evaluator } = run(60, () =>
      flowing({
        flow: { meanLpm: 3, sigmaLpm: 0.2 },
        cylinderPa: 6e5,
        content: { meanL: 300, sigmaL: 40, usableL: 0, fullL: 10_700, liquid: false },
        remainingMinutes: { median: 0, sigma: 1 },
      }),
    );
    expect(idsAtEnd(log)).toEqual(["cylinder-empty"]);
    expect(log.flat().some((alarm) => alarm.condition === "under-shielding")).toBe(false);
    expect(evaluator.suppressed().map((s) => s.condition)).toContain("under-shielding");
  });
  test("a silent node explains everything, takes its priority and says what stood", () => {
    const evaluator = createAlarmEvaluator();
    run(60, () => flowing({ flow: { meanLpm: 3, sigmaLpm: 0.2 } }), 1, evaluator);
    const silent = evaluator.step(
      snapshot({
        t: start + 200,
        mode: "silent",
        node: { silentSince: start + 70, clockWrong: false, configError: null },
      }),
    );
    expect(silent.map((alarm) => alarm.condition)).toEqual(["node-silent"]);
    expect(silent[0]).toMatchObject({ priority: "high", since: start + 70 });
    expect(silent[0].advice).toContain("Too little shielding gas");
  });
  test("every suppressed id exists, and no two conditions suppress each other", () => {
    const ids = new Set(alarmConditions.map((condition) => condition.condition));
    for (const condition of alarmConditions) {
      for (const id of condition.suppresses) {
        expect(ids).toContain(id);
        const other = alarmConditions.find((candidate) => candidate.condition === id);
        expect(other?.suppresses).not.toContain(condition.condition);
      }
    }
  });
});

describe("words", () => {
  const spoken = probe({
    describe: ({ supplyVoltage }) => ({
      title: [says("on-reserve")],
      advice: [says(supplyVoltage === 1 ? "change-empty-side" : "change-adapter")],
    }),
  });
  const adviceOver = (values: (number | null)[], restoreAt = -1) => {
    let evaluator = createAlarmEvaluator([spoken]);
    return values.flatMap((supplyVoltage, i) => {
      if (i === restoreAt) {
        const state = JSON.parse(JSON.stringify(evaluator.serialise()));
        evaluator = createAlarmEvaluator([spoken]);
        evaluator.restore(state);
      }
      return evaluator
        .step(snapshot({ t: start + i, supplyVoltage }))
        .map(({ said }) => said?.advice[0]?.say);
    });
  };
  const values = [...times(10, 1), ...times(20, 0)];
  test("while its off-delay runs an alarm says what it said when it last held", () => {
    expect(new Set(adviceOver(values))).toEqual(new Set(["change-empty-side"]));
    expect(adviceOver(values)).toHaveLength(15);
  });
  test.each([8, 10, 13])("through a restart before second %d too", (at) => {
    expect(adviceOver(values, at)).toEqual(adviceOver(values));
  });
  test("and what it says at a moment that cannot be judged is not kept", () => {
    const gap = [...times(10, 1), null, 2, ...times(20, 0)];
    expect(new Set(adviceOver(gap))).toEqual(new Set(["change-empty-side"]));
  });
  test("nothing of it is left once the alarm is gone", () => {
    const evaluator = createAlarmEvaluator([spoken]);
    for (const [i, supplyVoltage] of [...values, 0].entries()) {
      evaluator.step(snapshot({ t: start + i, supplyVoltage }));
    }
    expect(evaluator.serialise().words).toBeUndefined();
  });
});

describe("state", () => {
  const moment = (i: number): StationSnapshot => {
    const low = i % 97 < 60;
    return i % 40 < 25
      ? flowing({
          gasOnSince: start + i - (i % 40),
          flow: low ? { meanLpm: 4.5, sigmaLpm: 0.2 } : { meanLpm: 8, sigmaLpm: 0.2 },
          arc: i % 7 < 4,
        })
      : snapshot({
          arc: i % 53 === 0,
          faults: i > 200 ? [{ channel: "line-pressure", fault: "stuck", since: start + 200 }] : [],
          idleLine: {
            since: start + i - (i % 40) - 300,
            trendPaPerS: i > 150 ? 90 : 0,
            trendSigmaPaPerS: 3,
            heatPaPerS: 2,
            thawing: false,
            forecastPa: 4e5,
          },
        });
  };
  test("restored at any moment through JSON it continues exactly", () => {
    const { log } = run(400, moment);
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 399 }), (at) => {
        const first = createAlarmEvaluator();
        for (let i = 0; i <= at; i++) first.step({ ...moment(i), t: start + i });
        const second = createAlarmEvaluator();
        second.restore(JSON.parse(JSON.stringify(first.serialise())));
        for (let i = at + 1; i <= 400; i++) {
          expect(second.step({ ...moment(i), t: start + i })).toEqual(log[i]);
        }
      }),
      { numRuns: 15 },
    );
  });
  test("takes a few hundred bytes", () => {
    const { evaluator } = run(400, moment);
    expect(JSON.stringify(evaluator.serialise()).length).toBeLessThan(800);
    expect(JSON.stringify(run(10, () => snapshot()).evaluator.serialise()).length).toBeLessThan(60);
  });
  test("a foreign state starts fresh instead of failing", () => {
    const evaluator = createAlarmEvaluator();
    evaluator.restore({ v: 1, t: start, c: { "under-shielding": [9], gone: [1, 2] } });
    expect(evaluator.step(snapshot())).toEqual([]);
  });
});

describe("data as they come", () => {
  const maybe = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: null });
  const number = fc.oneof(
    fc.double({ noNaN: false, min: -1e7, max: 1e7 }),
    fc.constantFrom(0, Number.NaN, Number.POSITIVE_INFINITY),
  );
  const gaussian = fc.record({ meanLpm: number, sigmaLpm: number });
  const anySnapshot = fc
    .record({
      mode: fc.constantFrom("flowing", "idle", "valve-closed", "unknown", "silent"),
      gasOnSince: maybe(fc.constant(start - 30)),
      flow: maybe(gaussian),
      expectedFlow: maybe(gaussian),
      linePa: maybe(number),
      cylinderPa: maybe(number),
      regulatorK: maybe(number),
      bodyForecastK: maybe(number),
      content: maybe(
        fc.record({
          meanL: number,
          sigmaL: number,
          usableL: number,
          fullL: number,
          liquid: fc.boolean(),
        }),
      ),
      remainingMinutes: maybe(fc.record({ median: number, sigma: number })),
      arc: maybe(fc.boolean()),
      idleLine: maybe(
        fc.record({
          since: fc.constant(start - 900),
          trendPaPerS: number,
          trendSigmaPaPerS: number,
          heatPaPerS: number,
          thawing: fc.boolean(),
          forecastPa: number,
        }),
      ),
      leak: maybe(fc.record({ meanLpm: number, sigmaLpm: number, side: fc.constant(null) })),
      demand: maybe(fc.constant({ minimumLpm: null, targetLpm: null, maximumLpm: null })),
    })
    .map((change) => snapshot(change as Partial<StationSnapshot>));

  test("nothing throws, every text is whole", () => {
    fc.assert(
      fc.property(fc.array(anySnapshot, { minLength: 1, maxLength: 30 }), (list) => {
        const evaluator = createAlarmEvaluator();
        list.forEach((item, i) => {
          for (const alarm of evaluator.step({ ...item, t: start + i * 60 })) {
            expect(alarm.title).toBeTruthy();
            expect(`${alarm.title} ${alarm.advice}`).not.toMatch(/NaN|undefined|null|Infinity/);
          }
        });
      }),
      { numRuns: 300 },
    );
  });
  test("a station in order is quiet for a day of welding, gaps and idling", () => {
    const { log } = run(
      86_400,
      (i) => (i % 300 < 60 ? flowing({ gasOnSince: start + i - (i % 300) }) : snapshot()),
      2,
    );
    expect(log.flat()).toEqual([]);
  });
  test("nothing is known: nothing is claimed, nothing rings", () => {
    const { log } = run(3600, () =>
      snapshot({
        mode: "unknown",
        flow: null,
        expectedFlow: null,
        demand: null,
        content: null,
        remainingMinutes: null,
        cylinderPa: null,
        linePa: null,
        idleLine: null,
        leak: null,
        supplyVoltage: null,
      }),
    );
    expect(log.flat()).toEqual([]);
  });
  test("cheap enough for every sample", () => {
    const evaluator = createAlarmEvaluator();
    const quiet = flowing();
    const low = flowing({ flow: { meanLpm: 4, sigmaLpm: 0.2 } });
    // Time of the processor, not of the wall: the machine may be busy with other things.
    const cost = (item: StationSnapshot) => {
      const began = process.cpuUsage();
      for (let i = 0; i < 50_000; i++) {
        item.t = start + i;
        evaluator.step(item);
      }
      const { user, system } = process.cpuUsage(began);
      return (user + system) / 50_000;
    };
    cost(quiet);
    // About 3 us on an idle machine; the bound is for a shared one.
    expect(Math.min(cost(quiet), cost(quiet), cost(quiet))).toBeLessThan(25);
    expect(Math.min(cost(low), cost(low), cost(low))).toBeLessThan(50);
  });
  test("first shown counts from the first moment", () => {
    const { log } = run(60, () => flowing({ flow: { meanLpm: 4, sigmaLpm: 0.2 } }));
    expect(firstShown(log, "under-shielding")).toBe(7);
  });
});
