import type { Said } from "@leeward/shared-core/alarms/language/said.ts";
import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import { describe, expect, test } from "vitest";
import type { Freshness } from "../../../dashboard/display/freshness.ts";
import { flowVerdict, sentenceOf } from "../../../dashboard/display/sentence.ts";
import { sentence as english } from "../../../dashboard/language/english/sentence.ts";
import { sentence as german } from "../../../dashboard/language/german/sentence.ts";
import { sentence as spanish } from "../../../dashboard/language/spanish/sentence.ts";
import { alarm, exampleEstimate, exampleStation, exampleView } from "./examples.ts";

const live: Freshness = { state: "live", ageS: 2 };
const demand = { minimumLpm: 6, targetLpm: 8, maximumLpm: 10 };

describe("flow against the window, given its interval", () => {
  test.each([
    [{ lpm: 8, low: 7, high: 9 }, "right"],
    [{ lpm: 5, low: 4.8, high: 5.2 }, "low"],
    [{ lpm: 6.1, low: 5.8, high: 6.4 }, "near-low"],
    [{ lpm: 9.9, low: 9.6, high: 10.2 }, "near-high"],
    [{ lpm: 11, low: 10.5, high: 11.5 }, "high"],
    [{ lpm: null, why: "just started" }, "unknown"],
  ] as const)("%o is %s", (flow, verdict) => {
    expect(flowVerdict(flow, demand)).toBe(verdict);
  });

  test("without a window nothing is right", () => {
    expect(flowVerdict({ lpm: 8, low: 7, high: 9 }, null)).toBe("unknown");
  });
});

describe("the sentence", () => {
  test("the most urgent alarm speaks, with its own words, and counts the others", () => {
    const view = exampleView(
      exampleEstimate({
        alarms: [
          alarm("cylinder-low", "low", 1),
          alarm("under-shielding", "high", 9),
          alarm("leak", "medium", 2),
        ],
      }),
    );
    expect(sentenceOf(view, live, false)).toMatchObject({
      urgency: "now",
      title: "under-shielding title.",
      advice: "Do this.",
      since: 9,
      more: 2,
    });
  });

  test("names the setting of this moment, not the one of when the alarm last spoke", () => {
    const turn = { device: "float", way: "up", reading: 10.3, unit: "L/min" };
    const said = {
      title: [{ say: "too-little-gas", of: { share: 0.2 } }],
      advice: [{ say: "turn-device", of: turn }],
    };
    const low = { ...alarm("under-shielding", "high"), said };
    const advice = (dialTo: Estimate["dialTo"]) =>
      sentenceOf(exampleView(exampleEstimate({ alarms: [low], dialTo })), live, false).advice;
    expect(advice({ reading: 10.42, unit: "L/min" })).toContain("up to 10.4 L/min.");
    // A reading in another unit, or none, says nothing about the one that was named.
    expect(advice({ reading: 22, unit: "CFH" })).toContain("up to 10.3 L/min.");
    expect(advice({ reading: null, why: "no procedure" })).toContain("up to 10.3 L/min.");
  });

  test("a setting of this moment never takes over what was said of another side of the procedure's limits", () => {
    const turn = (reading: number) => ({
      say: "turn-device",
      of: { device: "float", way: "up", reading, unit: "L/min" },
    });
    const above = { say: "outside-procedure", of: { above: true, bound: 10, unit: "L/min" } };
    const procedure = { process: "GTAW", minimumLpm: 6, maximumLpm: 10 } as const;
    const advice = (said: Said[], reading: number) => {
      const low = {
        ...alarm("under-shielding", "high"),
        said: { title: [{ say: "too-little-gas", of: { share: 0.2 } }], advice: said },
      };
      const estimate = exampleEstimate({ alarms: [low], dialTo: { reading, unit: "L/min" } });
      return sentenceOf(exampleView(estimate, exampleStation({ procedure })), live, false).advice;
    };
    // Above the limit then and now: the new figure, with what is true of both.
    expect(advice([turn(12.6), above], 12.2)).toMatch(/up to 12[.]2 L.*above the 10 L/);
    // Inside by now: "above the 10 L/min" would be untrue of 9.5.
    expect(advice([turn(12.6), above], 9.5)).toMatch(/up to 12[.]6 L.*above the 10 L/);
    // Outside by now: nothing would be said of the limit that 12.6 passes.
    expect(advice([turn(9.5)], 12.6)).toContain("up to 9.5 L/min.");
    expect(advice([turn(9.5)], 5.5)).toContain("up to 9.5 L/min.");
    expect(advice([turn(9.5)], 9.8)).toContain("up to 9.8 L/min.");
  });

  test.each([
    ["high", "now"],
    ["medium", "soon"],
    ["low", "today"],
  ] as const)("priority %s is urgency %s", (priority, urgency) => {
    const view = exampleView(exampleEstimate({ alarms: [alarm("leak", priority)] }));
    expect(sentenceOf(view, live, false).urgency).toBe(urgency);
  });

  test("calm claims the gas flow, never that all is well", () => {
    const { title, urgency } = sentenceOf(exampleView(), live, false);
    expect(title).toBe("Gas flow is right.");
    expect(urgency).toBeNull();
  });

  test("right needs the whole interval inside the window", () => {
    const view = exampleView(exampleEstimate({ flow: { lpm: 6.2, low: 5.9, high: 6.5 } }));
    expect(sentenceOf(view, live, false).title).not.toContain("right");
  });

  test("an unknown flow or window is never good news", () => {
    const noFlow = exampleView(exampleEstimate({ flow: { lpm: null, why: "just started" } }));
    const noWindow = exampleView(exampleEstimate({ demand: null }));
    const unknown = exampleView(exampleEstimate({ mode: "unknown" }));
    for (const view of [noFlow, noWindow, unknown]) {
      expect(sentenceOf(view, live, false).title).not.toContain("is right");
    }
  });

  test("old values speak of their age, also under an alarm", () => {
    const old: Freshness = { state: "old", ageS: 240 };
    expect(sentenceOf(exampleView(), old, false).title).toContain("4 min ago");
    const ringing = exampleView(exampleEstimate({ alarms: [alarm("under-shielding", "high")] }));
    expect(sentenceOf(ringing, old, false).advice).toContain("Last known 4 min ago");
  });

  test("the node's own silence keeps its full voice", () => {
    const silent = exampleView(
      exampleEstimate({ mode: "silent", alarms: [alarm("node-silent", "medium")] }),
    );
    const said = sentenceOf(silent, { state: "old", ageS: 240 }, false);
    expect(said).toMatchObject({ urgency: "soon", advice: "Do this." });
  });

  test("idle answers for the next gas-on, and says what to set before the arc", () => {
    const idle = { mode: "idle" as const, flow: { lpm: 0, low: 0, high: 0 } };
    const right = exampleView(
      exampleEstimate({ ...idle, expected: { lpm: 8, low: 7.5, high: 8.5 } }),
    );
    expect(sentenceOf(right, live, false).title).toContain("next gas-on gives the flow");
    const low = exampleView(
      exampleEstimate({
        ...idle,
        expected: { lpm: 4, low: 3.8, high: 4.2 },
        dialTo: { reading: 12.6, unit: "L/min" },
      }),
    );
    expect(sentenceOf(low, live, false)).toMatchObject({
      title: "Gas is off. The next gas-on would give too little.",
      advice: "Press gas test and set 12.6 L/min before the arc.",
    });
  });

  test("liquid is named where it is", () => {
    expect(sentenceOf(exampleView(), live, true).advice).toContain("pressure cannot tell");
  });

  test.each<[string, Partial<Estimate>]>([
    ["nothing is certain", { mode: "unknown" }],
    ["gas flows and its amount is not known", { flow: { lpm: null, why: "just started" } }],
    ["gas flows against no window", { demand: null }],
    ["gas is off", { mode: "idle", demand: null }],
    ["the valve is shut", { mode: "valve-closed" }],
  ])("a half-set-up station names what is missing while %s", (_name, change) => {
    const view = exampleView(exampleEstimate(change));
    const { flowDevice: _device, procedure: _procedure, ...description } = view.description;
    const said = sentenceOf({ ...view, description }, live, false);
    expect(said.advice).toContain("Not described yet: the flow device and what is welded.");
    expect(said.setupHref).toContain("#/setup/station/");
    expect(`${said.title} ${said.advice}`).not.toContain("is right.");
    expect(sentenceOf(view, live, false).setupHref).toBeUndefined();
  });

  test.each([
    ["English", english, /was never seen open here/],
    ["German", german, /wurde hier noch nie offen gesehen/],
    ["Spanish", spanish, /no se ha visto abierta nunca/],
  ])("no pressure yet says in %s what was seen, not what the valve did", (_name, text, seen) => {
    expect(text.sentence.neverOpenNote).toMatch(seen);
  });

  test("a shut valve holds no content where it was never seen open", () => {
    const shut = (litres: number | null) =>
      sentenceOf(
        exampleView(exampleEstimate({ mode: "valve-closed", content: { litres } })),
        live,
        false,
      );
    expect(shut(1300)).toMatchObject({ title: "Cylinder valve closed." });
    expect(shut(null).title).toBe("No gas pressure yet.");
    expect(shut(null).advice).not.toContain("held");
  });

  test("no data and no node are told apart", () => {
    const none: Freshness = { state: "none", ageS: null };
    const view = exampleView(null);
    expect(sentenceOf(view, none, false).title).toBe("No data yet.");
    const unbound = { ...view, node: { ...view.node, name: null } };
    expect(sentenceOf(unbound, none, false).title).toContain("No node");
  });
});
