import { readFileSync } from "node:fs";
import { alarmConditions } from "@leeward/shared-core/alarms/index.ts";
import { englishSentences } from "@leeward/shared-core/alarms/language/english.ts";
import { germanConditions } from "@leeward/shared-core/alarms/language/german-conditions.ts";
import { alarmLanguages } from "@leeward/shared-core/alarms/language/index.ts";
import { type Said, says } from "@leeward/shared-core/alarms/language/said.ts";
import {
  type AlarmLanguage,
  formatsOf,
  metricSayUnits,
  reasonIn,
  type SayUnits,
  say,
  sayAlarm,
  usSayUnits,
} from "@leeward/shared-core/alarms/language/say.ts";
import { spanishConditions } from "@leeward/shared-core/alarms/language/spanish-conditions.ts";
import { describe, expect, test } from "vitest";

const { en, de, es } = alarmLanguages;

/** One example of each sentence that takes values; the others are given without. */
const examples: Said[] = [
  says("hose-blocked", { share: 0.31 }),
  says("hose-open", { share: 0.31 }),
  says("calibration-overdue", { s: 7 * 86400 }),
  says("cylinder-empty", { pa: 7.3e5 }),
  says("cylinder-low", { share: 0.17 }),
  says("gas-on-without-arc", { s: 1320 }),
  says("gas-on-for", { s: 1320 }),
  says("gas-on-long", { s: 1320 }),
  says("purge-on", { s: 1320 }),
  says("purge-past-time", { s: 7200, wantedS: 300 }),
  says("purge-past-volumes", { wanted: 6, passed: 12.4 }),
  says("purge-long", { s: 1320 }),
  says("danger-oxygen", { inS: 2460 }),
  says("danger-co2-short", { inS: 2460 }),
  says("danger-co2-long", { inS: 2460 }),
  says("danger-confined-at", { at: "Tank 2" }),
  says("danger-oxygen", { inS: 2460, at: "Tank 2" }),
  says("danger-co2-short", { inS: 2460, at: "Tank 2" }),
  says("danger-co2-long", { inS: 2460, at: "Tank 2" }),
  says("may-leak-at", { at: "Tank 2" }),
  says("gas-leaks", { lpm: 0.13 }),
  says("line-rises", { pa: 6.1e5, limitPa: 8.2e5, inS: 720 }),
  says("line-at-limit", { pa: 8.1e5, limitPa: 8.2e5 }),
  says("node-refused", { why: "pace 17" }),
  says("node-clock-ahead", { s: 1020 }),
  says("node-silent", { s: 7200 }),
  says("node-power-low", { volts: 4.3 }),
  says("too-little-gas", { share: 0.15 }),
  says("too-much-gas", { share: 0.41 }),
  says("still-dialled-up", { share: 0.56 }),
  says("setting-moved", { off: -0.23 }),
  says("setting-moved", { off: 0.23 }),
  says("line-climbs", { paPerMinute: 600, inS: 1500 }),
  says("may-ice-up", { inS: 300, bodyK: 275.15 }),
  says("gas-left", { s: 840 }),
  says("gas-left-job", { s: 5400, jobS: 7200 }),
  says("sensor-fault", { faults: "line-pressure/open-circuit arc/stuck" }),
  says("sensor-fault", { faults: "cylinder-temperature/fallen-off" }),
  says("strap-probe"),
  says("line-warms", { pa: 3.6e5, reachPa: 7.6e5, inS: 900 }),
  says("line-left-full", { pa: 3.6e5 }),
  says("gas-and-process", { gas: "M21-ArC-18" }),
  says("is-this-the-gas", { gas: "I1-Ar", like: "I2-He" }),
  says("gas-gathers", { helium: true }),
  says("gas-gathers", { helium: false }),
  says("would-be-empty", { s: 50_000 }),
  says("bleed", { closed: false, screw: true, confined: false }),
  says("bleed", { closed: true, screw: false, confined: true }),
  says("standing-then", { conditions: "under-shielding leak" }),
  says("turn-device", { device: "float", way: "up", reading: 12.6, unit: "L/min" }),
  says("turn-device", { device: "gauge", way: "down", reading: 9, unit: "CFH" }),
  says("turn-device", { device: "meter", way: "back", reading: 8, unit: "L/min" }),
  says("outside-procedure", { above: true, bound: 10.5, unit: "L/min" }),
  says("outside-procedure", { above: false, bound: 10.5, unit: "CFH" }),
  says("cannot-be-set", { why: "XYZ" }),
  says("may-look-right", { device: "float" }),
  says("bring-full", { changeS: 720 }),
  says("weld-at-most", { s: 240 }),
  says("plan-change", { changeS: 720 }),
  says("heat-alone", { pa: 4.1e5, limitPa: 8.2e5 }),
  says("gas-unsuited", { why: "tig-inert" }),
  says("gas-unsuited", { why: "aluminium-inert" }),
  says("gas-unsuited", { why: "aluminium-hydrogen" }),
  says("gas-unsuited", { why: "cored-wire" }),
  says("cylinder-hot", { bodyK: 330.15 }),
];
const bare: Said[] = (Object.keys(englishSentences) as (keyof typeof englishSentences)[])
  .filter((key) => !examples.some((one) => one.say === key))
  .map((key) => ({ say: key }));
const all = [...bare, ...examples];

/** Figures in a text, decimal commas as points: they are the same in every language. */
const figures = (text: string): string[] =>
  (text.match(/\d+(?:[.,]\d+)?/g) ?? []).map((figure) => figure.replace(",", ".")).sort();

describe.each([
  ["German", de],
  ["Spanish", es],
] as [string, AlarmLanguage][])("%s", (_name, language) => {
  test.each(all)("$say: translated, with the figures of the English one", (said) => {
    for (const units of [metricSayUnits, usSayUnits]) {
      const english = say(said, en, units);
      const own = say(said, language, units);
      expect(own).not.toBe(english);
      expect(figures(own ?? "")).toEqual(figures(english ?? ""));
      expect(own).not.toMatch(/undefined|null|NaN| {2}|\.\./);
      expect(/[.:]$/.exec(own ?? "")?.[0]).toBe(/[.:]$/.exec(english ?? "")?.[0]);
    }
  });
});

test("values that are not known leave no hole in any language", () => {
  const unknown: Said[] = [
    says("hose-blocked", { share: null }),
    says("calibration-overdue", { s: null }),
    says("cylinder-empty", { pa: null }),
    says("cylinder-low", { share: null }),
    says("gas-leaks", { lpm: null }),
    says("line-at-limit", { pa: null, limitPa: null }),
    says("node-refused", { why: null }),
    says("node-silent", { s: null }),
    says("node-power-low", { volts: null }),
    says("too-little-gas", { share: null }),
    says("setting-moved", { off: null }),
    says("line-climbs", { paPerMinute: null, inS: null }),
    says("may-ice-up", { inS: null, bodyK: null }),
    says("sensor-fault", { faults: "" }),
    says("line-warms", { pa: null, reachPa: 7.6e5, inS: null }),
    says("line-left-full", { pa: null }),
    says("is-this-the-gas", { gas: null, like: null }),
    says("bring-full", { changeS: null }),
  ];
  for (const said of unknown) {
    for (const language of [en, de, es]) {
      const text = say(said, language, metricSayUnits) ?? "";
      expect(text, said.say).not.toMatch(/undefined|null|NaN| {2}|[ :,]$/);
      expect(text.length, said.say).toBeGreaterThan(8);
    }
  }
});

describe("values in the reader's units", () => {
  const psi: SayUnits = { ...metricSayUnits, pressure: "psi" };
  const kPa: SayUnits = { ...metricSayUnits, pressure: "kPa" };
  const empty = says("cylinder-empty", { pa: 7.3e5 });
  test.each([
    [en, metricSayUnits, "Cylinder empty: 7.3 bar left"],
    [de, metricSayUnits, "Flasche leer: noch 7,3 bar"],
    [es, metricSayUnits, "Botella vacía: quedan 7,3 bar"],
    [es, { ...metricSayUnits, decimal: "." }, "Botella vacía: quedan 7.3 bar"],
    // 7.3 bar / 6894.757 Pa (NIST SP 811) = 105.88 psi.
    [en, psi, "Cylinder empty: 106 psi left"],
    [en, kPa, "Cylinder empty: 730 kPa left"],
  ])("%#: %s", (language, units, text) => {
    expect(say(empty, language as AlarmLanguage, units as SayUnits)).toBe(text);
  });
  test("flow, volume and temperature", () => {
    // 0.1 L/min at 20 °C, 1 atm is 0.213 CFH at 70 °F, 14.696 psia; 144 L is 5.1 ft³ (NIST SP 811).
    expect(say(says("gas-leaks", { lpm: 0.1 }), en, metricSayUnits)).toBe(
      "Gas leaks: 0.1 L/min, 144 L a day",
    );
    expect(say(says("gas-leaks", { lpm: 0.1 }), en, usSayUnits)).toBe(
      "Gas leaks: 0.21 CFH, 5.1 ft³ a day",
    );
    expect(say(says("may-ice-up", { inS: null, bodyK: 268.15 }), de, usSayUnits)).toBe(
      "Der Druckminderer könnte bald vereisen, sein Gehäuse hat 23 °F",
    );
  });
  test("a device's reading keeps the unit printed on the device", () => {
    const turn = says("turn-device", { device: "float", way: "up", reading: 27, unit: "CFH" });
    expect(say(turn, de, metricSayUnits)).toBe(
      "Gastest drücken und den Schwebekörper höher auf 27 CFH stellen.",
    );
  });
  const f = formatsOf(en, metricSayUnits);
  test.each([
    [0.354, "0.35"],
    [8, "8"],
    [12.64, "12.6"],
    [119.4, "119"],
    [7.0, "7"],
  ])("%f reads %s", (value, text) => {
    expect(f.number(value)).toBe(text);
  });
  test.each([
    [40, "40 s"],
    [720, "12 min"],
    [10_800, "3 h"],
    [5400, "90 min"],
    [5969, "99 min"],
    [5970, "1 h 40"],
    [6480, "1 h 50"],
    [7500, "2 h 05"],
    [25_300, "7 h"],
    [25_600, "7 h 10"],
    [129_599, "36 h"],
    [172_800, "2 days"],
  ])("%i s reads %s", (seconds, text) => {
    expect(f.span(seconds)).toBe(text);
  });
});

test("a key of a later version leaves the text that came along", () => {
  const said = { title: [{ say: "from-the-future" }], advice: [says("stop-the-arc")] };
  expect(sayAlarm(said, de, metricSayUnits)).toBeNull();
  expect(say({ say: "toString" }, de, metricSayUnits)).toBeNull();
});

test("clauses of a title stand in one line, the first step of the advice for itself", () => {
  const said = {
    title: [says("gas-on-without-arc", { s: 600 }), says("danger-confined")],
    advice: [says("do-not-go-in"), says("hydrogen-burns")],
  };
  expect(sayAlarm(said, en, metricSayUnits)).toEqual({
    title: "Gas on for 10 min without an arc; the place is a confined space",
    advice:
      "Do not go in to look: ventilate, and test the air. Close the cylinder valve only where the air is known to be good. The gas holds hydrogen: no flame, no spark.",
    firstStep: "Do not go in to look: ventilate, and test the air.",
  });
});

describe("why each alarm exists", () => {
  const ids = alarmConditions.map(({ condition }) => condition).sort();
  const figuresOf = (text: string) => [...new Set(figures(text))].sort();
  test.each([
    ["German", germanConditions],
    ["Spanish", spanishConditions],
  ] as const)("%s: every condition, every part, with the figures of the code", (_name, own) => {
    expect(Object.keys(own).sort()).toEqual(ids);
    for (const condition of alarmConditions) {
      const words = own[condition.condition];
      for (const part of [
        "title",
        "cause",
        "consequence",
        "operatorAction",
        "timeToRespond",
        "limit",
        "deadband",
        "delayReason",
      ] as const) {
        const [theirs, ours] = [condition[part], words?.[part] ?? ""];
        const where = `${condition.condition} ${part}`;
        if (/[a-z]{4}/.test(theirs)) expect(ours, where).not.toBe(theirs);
        expect(figuresOf(ours), where).toEqual(figuresOf(theirs));
        expect(ours.endsWith("."), where).toBe(theirs.endsWith("."));
      }
    }
  });
});

test("what a gas behaves like, why a node refuses its settings, and a clock that is days ahead: in the reader's language", () => {
  const one = (said: Said) => [de, es].map((language) => say(said, language, metricSayUnits));
  expect(one(says("is-this-the-gas", { gas: "I1-Ar", like: "argon with 25 % CO2" }))).toEqual([
    "Ist das wirklich I1-Ar? Es verhält sich wie Argon mit 25 % CO2",
    "¿Es esto de verdad I1-Ar? Se comporta como argón con 25 % de CO2",
  ]);
  expect(one(says("node-refused", { why: "pace.idleS must lie between 1 and 300" }))).toEqual([
    "Der Knoten hat seine Einstellungen abgelehnt: pace.idleS muss zwischen 1 und 300 liegen",
    "El nodo ha rechazado sus ajustes: pace.idleS debe estar entre 1 y 300",
  ]);
  expect(one(says("node-clock-ahead", { s: 3 * 86_400 }))[0]).toBe(
    "Die Knotenuhr hat einen Vorsprung von 3 Tagen: Messwerte werden abgewiesen",
  );
});

test("every reason that a node's code gives for refused settings is told in German and Spanish", () => {
  const source = ["node-config.ts", "config-keeper.ts", "json.ts"]
    .map((name) =>
      readFileSync(new URL(`../../../../firmware/src/${name}`, import.meta.url), "utf8"),
    )
    .join("\n");
  const why = [
    ...source.matchAll(/complain\(\s*\w+,\s*[^,]+,\s*(?:string\.format\()?"([^"]+)"/g),
    ...source.matchAll(/keeper\.error = string\.format\("([^"]+)"/g),
  ].map(([whole, text = ""]) =>
    (whole.startsWith("complain") ? `pace.idleS ${text}` : text).replaceAll("%d", "7"),
  );
  expect(why.length).toBeGreaterThan(8);
  for (const text of why) {
    for (const language of [de, es]) expect(reasonIn(text, language), text).not.toBe(text);
  }
});
