import type { StationSnapshot } from "@leeward/shared-core/alarms/condition.ts";
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

const good = { silentSince: null, clockWrong: false, configError: null };

describe("sensor-fault", () => {
  const fault = (channel: string, word: string) => ({
    faults: [{ channel, fault: word, since: start }],
  });
  test("an open circuit within 5 s, since it began", () => {
    const { log } = run(20, () =>
      snapshot({ ...fault("line-pressure", "open-circuit"), linePa: null }),
    );
    expect(firstShown(log, "sensor-fault")).toBeLessThanOrEqual(5);
    expect(lastOf(log, "sensor-fault")).toMatchObject({
      priority: "medium",
      since: start,
      title: "Sensor fault: line pressure sensor: broken wire",
    });
  });
  test("a temperature is less urgent, and an unknown word is shown as it is", () => {
    const { log } = run(20, () => snapshot(fault("ambient-temperature", "wet")));
    expect(lastOf(log, "sensor-fault")).toMatchObject({
      priority: "low",
      title: "Sensor fault: room temperature sensor: wet",
    });
  });
  test("a probe that has fallen off is to be strapped on again, not changed", () => {
    const { log } = run(20, () => snapshot(fault("cylinder-temperature", "fallen-off")));
    expect(lastOf(log, "sensor-fault")).toMatchObject({
      priority: "low",
      title: "Sensor fault: cylinder temperature sensor: has fallen off the cylinder",
    });
    expect(lastOf(log, "sensor-fault")?.advice).toContain("Strap the probe");
  });
  test("a bad plug that comes and goes rings once", () => {
    const { log } = run(300, (i) =>
      snapshot(i % 20 < 10 ? fault("line-pressure", "open-circuit") : {}),
    );
    const first = firstShown(log, "sensor-fault") ?? 0;
    expect(log.slice(first).every((alarms) => alarms.length === 1)).toBe(true);
  });
});

describe("the node", () => {
  test("silent, since its last word, however long", () => {
    const { log } = run(
      7200,
      () => snapshot({ mode: "silent", node: { ...good, silentSince: start - 60 } }),
      60,
    );
    expect(log[0][0]).toMatchObject({ condition: "node-silent", since: start - 60 });
    expect(lastOf(log, "node-silent")?.title).toBe("No word from the node for 2 h");
  });
  test("a planned power-off is no alarm", () => {
    const { log } = run(60, () =>
      snapshot({ mode: "silent", node: { ...good, silentSince: start, plannedOff: true } }),
    );
    expect(log.flat()).toEqual([]);
  });
  test("what stood before it fell silent still stands when it comes back", () => {
    const { log } = run(400, (i) =>
      i < 60 || i > 300
        ? flowing({ flow: { meanLpm: 4, sigmaLpm: 0.1 } })
        : snapshot({ mode: "silent", node: { ...good, silentSince: start + 60 } }),
    );
    expect(log[200].map((alarm) => alarm.condition)).toEqual(["node-silent"]);
    expect(idsAtEnd(log)).toEqual(["under-shielding"]);
    expect(lastOf(log, "under-shielding")?.since).toBe(start + 2);
  });
  test.each([
    ["clock wrong", { node: { ...good, clockWrong: true } }, "node-clock-wrong"],
    ["settings refused", { node: { ...good, configError: "pace" } }, "node-config-refused"],
    ["5 V sags", { supplyVoltage: 4.2 }, "node-supply-low"],
    ["3.3 V sags", { supplyVoltage: 2.9 }, "node-supply-low"],
  ] as [string, Partial<StationSnapshot>, string][])("%s", (_, change, condition) => {
    expect(idsAtEnd(run(300, () => snapshot(change)).log)).toEqual([condition]);
  });
  test.each([5.0, 4.6, 3.3, 3.1])("%f V is fine", (supplyVoltage) => {
    expect(run(300, () => snapshot({ supplyVoltage })).log.flat()).toEqual([]);
  });
});

describe("calibration-overdue", () => {
  const tested = (date: string) =>
    ({
      ...station,
      flowDevice: {
        ...station.flowDevice,
        fit: { parameters: [{ name: "scale", value: 1, sigma: 0.01, unit: "1" }], date },
      },
    }) as StationSnapshot["station"];
  test("a year after the bench test", () => {
    expect(idsAtEnd(run(1, () => snapshot({ station: tested("2024-11-01") })).log)).toEqual([
      "calibration-overdue",
    ]);
    expect(run(1, () => snapshot({ station: tested("2025-06-01") })).log.flat()).toEqual([]);
  });
  test("a date that cannot be read claims nothing", () => {
    expect(run(1, () => snapshot({ station: tested("last spring") })).log.flat()).toEqual([]);
  });
  test("by the date in the set-up, while the node is silent too", () => {
    const { log } = run(1, () => snapshot({ mode: "silent", calibrationDueT: start - 86_400 }));
    expect(idsAtEnd(log)).toEqual(["calibration-overdue"]);
  });
});

describe("nobody-reachable", () => {
  test("as the gateway says", () => {
    const { log } = run(200, () => snapshot({ nobodyReachableSince: start }));
    expect(firstShown(log, "nobody-reachable")).toBe(120);
    expect(run(200, () => snapshot({ nobodyReachableSince: null })).log.flat()).toEqual([]);
  });
});
