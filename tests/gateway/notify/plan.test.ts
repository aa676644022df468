import { says } from "@leeward/shared-core/alarms/language/said.ts";
import { usSayUnits } from "@leeward/shared-core/alarms/language/say.ts";
import { describe, expect, test } from "vitest";
import type { Occurrence } from "../../../gateway/alarms/states.ts";
import { pauseAfter } from "../../../gateway/notify/deliverer.ts";
import { composeDigest, digestDue } from "../../../gateway/notify/digest.ts";
import { clockText, localTime, quietUntil } from "../../../gateway/notify/local-time.ts";
import { composeMessage, planAlarm } from "../../../gateway/notify/plan.ts";
import { notifySettingsSchema } from "../../../gateway/notify/settings.ts";
import { settingsFor } from "./notify-bench.ts";

const at = (text: string) => Date.parse(text) / 1000;
const hook = {
  kind: "webhook",
  url: "https://hook.example/x",
  secret: "a-secret-of-this-test-only",
};

function occurrence(condition: string, change: Partial<Occurrence> = {}): Occurrence {
  return {
    id: `north.bay-3~${condition}~abc`,
    site: "north",
    station: "bay-3",
    condition,
    priority: "high",
    since: at("2025-11-25T08:58:00Z"),
    raised: at("2025-11-25T09:00:00Z"),
    cleared: null,
    state: "unacknowledged",
    acknowledged: null,
    acknowledgedBy: null,
    note: null,
    suppressedBy: null,
    late: false,
    rang: null,
    title: "Gas for about 14 min of welding left",
    advice: "Bring a full cylinder now: the change takes about 10 min. Start no long weld.",
    said: null,
    ...change,
  };
}

const context = (change: Record<string, unknown> = {}, node: string | null = "n-07") => ({
  settings: settingsFor([hook], change),
  timeZone: "Europe/Copenhagen",
  station: () => ({ name: "Slipway 2", node }),
});
const now = at("2025-11-25T09:00:00Z");

describe("a message", () => {
  test("says which station, what, how long, what to do, in one line", () => {
    const message = composeMessage(occurrence("runs-out-soon"), context(), now);
    expect(message.line).toBe(
      "Slipway 2: Gas for about 14 min of welding left. Bring a full cylinder now: the change takes about 10 min.",
    );
    // 08:58 UTC is 09:58 in Copenhagen in winter.
    expect(message.body).toContain("since 09:58.");
    expect(message.body).toContain("Start no long weld.");
    expect(message.link).toBe(
      "https://leeward.boatyard.example/alarms/north.bay-3~runs-out-soon~abc",
    );
  });
  test("speaks the contact's language, in the site's units, where it is not the site's", () => {
    const said = {
      title: [says("cylinder-empty", { pa: 6.894757e5 })],
      advice: [says("no-new-weld"), says("tighten-nothing")],
    };
    const empty = occurrence("cylinder-empty", {
      title: "Cylinder empty: 100 psi left",
      advice: "Start no new weld on this cylinder. Tighten nothing under pressure.",
      said,
    });
    const psi = {
      ...context(),
      station: () => ({ name: "Slipway 2", node: null, units: usSayUnits }),
    };
    expect(composeMessage(empty, psi, now).line).toBe(
      "Slipway 2: Cylinder empty: 100 psi left. Start no new weld on this cylinder.",
    );
    expect(composeMessage(empty, psi, now, "de")).toMatchObject({
      line: "Slipway 2: Flasche leer: noch 100 psi. Mit dieser Flasche keine neue Naht beginnen.",
      body: "Slipway 2: Flasche leer: noch 100 psi, seit 09:58.\n\nMit dieser Flasche keine neue Naht beginnen. Nichts unter Druck nachziehen.",
    });
    // A site that speaks Spanish itself: its texts as they came, the words around them Spanish too.
    const spanish = composeMessage(
      { ...empty, title: "Botella vacía", advice: "No empiece otra soldadura con esta botella." },
      { ...psi, language: "es" },
      now,
    );
    expect(spanish.body).toContain("Botella vacía, desde las 09:58.");
  });
  test("goes to each contact of a step in that contact's own language", () => {
    const settings = notifySettingsSchema.parse({
      contacts: [
        { id: "ana", name: "Ana", language: "es", ways: [hook] },
        { id: "ben", name: "Ben", ways: [hook] },
      ],
      chains: [{ priorities: ["high"], steps: [{ afterS: 0, contacts: ["ana", "ben"] }] }],
    });
    const said = { title: [says("on-reserve")], advice: [says("no-new-weld")] };
    const rows = planAlarm(occurrence("leak", { said }), { ...context(), settings }, now);
    expect(rows.map((row) => row.message.line)).toEqual([
      "Slipway 2: Se está usando el lado de reserva. No empiece otra soldadura con esta botella.",
      "Slipway 2: Gas for about 14 min of welding left. Bring a full cylinder now: the change takes about 10 min.",
    ]);
  });
  test("is complete without a link, and a long line is cut whole", () => {
    const message = composeMessage(
      occurrence("leak", { advice: `${"word ".repeat(80)}end.` }),
      context({ publicUrl: null }),
      now,
    );
    expect(message.link).toBeNull();
    expect(message.line.length).toBeLessThanOrEqual(160);
    expect(message.line.endsWith("…")).toBe(true);
    expect(message.body).toContain("end.");
  });
});

describe("who hears of it, and when", () => {
  const night = at("2025-11-25T22:30:00Z"); // 23:30 in Copenhagen
  const quiet = { quietHours: { from: "22:00", to: "06:00" } };
  test("at once by day", () => {
    expect(
      planAlarm(occurrence("runs-out-soon"), context(quiet), now).map((row) => row.due),
    ).toEqual([now]);
  });
  test("after the quiet hours by night", () => {
    const [row] = planAlarm(occurrence("runs-out-soon"), context(quiet), night);
    expect(row?.due).toBe(at("2025-11-26T05:00:00Z"));
  });
  test("what waits for the morning says in its line since when, what rings at night does not", () => {
    const lineOf = (condition: string) =>
      planAlarm(occurrence(condition, { since: night - 60 }), context(quiet), night)[0]?.message
        .line;
    expect(lineOf("runs-out-soon")).toContain("min of welding left, since 23:29. ");
    expect(lineOf("leak")).not.toContain("since");
  });
  test.each(["leak", "line-pressure-high", "regulator-creep", "gas-left-on", "arc-without-gas"])(
    "%s does not wait for the morning",
    (condition) => {
      const [row] = planAlarm(occurrence(condition), context(quiet), night);
      expect(row?.due).toBe(night);
    },
  );
  test("equipment that comes back within 20 s sends nothing", () => {
    const [row] = planAlarm(occurrence("node-silent"), context(), now);
    expect(row?.due).toBe(now + 20);
  });
  test("low priority waits for the digest where no chain takes it", () => {
    expect(planAlarm(occurrence("cylinder-low", { priority: "low" }), context(), now)).toEqual([]);
  });
  test("that nobody can be reached is not sent", () => {
    const site = occurrence("nobody-reachable", { station: null });
    expect(planAlarm(site, context(), now)).toEqual([]);
  });
  test("a chain for other stations does not fit", () => {
    const chains = [
      {
        priorities: ["high"],
        stations: ["north.bay-9"],
        steps: [{ afterS: 0, contacts: ["foreman"] }],
      },
    ];
    expect(planAlarm(occurrence("leak"), context({ chains }), now)).toEqual([]);
  });
  test("the same ring planned again has the same ids: it is stored once", () => {
    const ids = () => planAlarm(occurrence("leak"), context(), now).map((row) => row.id);
    expect(ids()).toEqual(ids());
  });
  test("no node, no lamp", () => {
    const settings = settingsFor([hook, { kind: "node" }]);
    const rows = planAlarm(occurrence("leak"), { ...context({}, null), settings }, now);
    expect(rows.map((row) => row.way.kind)).toEqual(["webhook"]);
  });
});

describe("local time", () => {
  test("follows summer time", () => {
    expect(clockText(at("2026-03-29T00:30:00Z"), "Europe/Copenhagen")).toBe("01:30");
    expect(clockText(at("2026-03-29T01:30:00Z"), "Europe/Copenhagen")).toBe("03:30");
    expect(localTime(at("2025-12-31T23:30:00Z"), "Europe/Copenhagen").date).toBe("2026-01-01");
  });
  test.each([
    ["2025-11-25T12:00:00Z", null],
    ["2025-11-25T21:59:59Z", null],
    ["2025-11-25T22:00:00Z", "2025-11-26T06:00:00Z"],
    ["2025-11-26T05:59:00Z", "2025-11-26T06:00:00Z"],
    ["2025-11-26T06:00:00Z", null],
  ])("quiet from 22:00 to 06:00 at %s until %s", (text, end) => {
    expect(quietUntil(at(text), { from: "22:00", to: "06:00" }, "UTC")).toBe(
      end === null ? null : at(end),
    );
  });
});

describe("a night of summer time", () => {
  // 29 March 2026: 02:00 becomes 03:00; 25 October 2026: 03:00 becomes 02:00.
  test.each([
    ["2026-03-28T22:30:00Z", "2026-03-29T04:00:00Z"],
    ["2026-10-24T21:30:00Z", "2026-10-25T05:00:00Z"],
  ])("from %s the quiet ends at six by the clock, %s", (text, end) => {
    const quiet = { from: "22:00", to: "06:00" };
    expect(quietUntil(at(text), quiet, "Europe/Copenhagen")).toBe(at(end));
  });
  test("an end in the hour that the clock skips: quiet until the jump, not before", () => {
    const quiet = { from: "22:00", to: "02:30" };
    const end = quietUntil(at("2026-03-28T23:00:00Z"), quiet, "Europe/Copenhagen");
    expect(end).toBe(at("2026-03-29T01:00:00Z"));
  });
});

describe("the digest", () => {
  test("is due once a day from its time on", () => {
    const due = (text: string, last: string | null) => digestDue(at(text), "07:00", "UTC", last);
    expect(due("2025-11-25T06:59:00Z", null)).toBeNull();
    expect(due("2025-11-25T07:00:00Z", null)).toBe("2025-11-25");
    expect(due("2025-11-25T09:00:00Z", "2025-11-25")).toBeNull();
    expect(digestDue(now, null, "UTC", null)).toBeNull();
  });
  test("puts repeats together and is silent where nothing was", () => {
    const digest = {
      site: "north",
      date: "2025-11-25",
      nowS: now,
      timeZone: "UTC",
      publicUrl: null,
      nameOf: () => "Slipway 2",
    };
    const raised = (t: number, condition: string) => ({ t, station: "bay-3", condition });
    const message = composeDigest(
      [raised(now - 60, "over-flow"), raised(now - 30, "over-flow"), raised(now, "cylinder-low")],
      digest,
    );
    expect(message?.line).toContain("2 things to look at");
    expect(message?.body).toContain("Slipway 2: Too much shielding gas (08:59, 2 times)");
    expect(composeDigest([], digest)).toBeNull();
    const named = (nameOf: () => string) =>
      composeDigest([raised(now, "over-flow")], { ...digest, nameOf })?.line ?? "";
    expect(named(() => "x".repeat(300)).length).toBeLessThanOrEqual(160);
    const spanish = composeDigest([raised(now - 60, "over-flow"), raised(now, "over-flow")], {
      ...digest,
      language: "es",
    });
    expect(spanish?.line).toContain("hay una cosa que mirar");
    expect(spanish?.body).toBe("Slipway 2: Demasiado gas de protección (08:59, 2 veces)");
  });
});

describe("pauses", () => {
  test("double up to a quarter of an hour, spread by a fifth", () => {
    for (const [attempt, pause] of [
      [1, 5],
      [2, 10],
      [5, 80],
      [20, 900],
    ] as const) {
      for (const id of ["a", "b", "c"]) {
        expect(pauseAfter(attempt, id)).toBeGreaterThanOrEqual(pause * 0.8);
        expect(pauseAfter(attempt, id)).toBeLessThanOrEqual(pause * 1.2);
      }
    }
  });
});

describe("settings", () => {
  test.each([
    [
      "a chain names nobody",
      { chains: [{ priorities: ["high"], steps: [{ afterS: 0, contacts: ["x"] }] }] },
      "names x, which is no contact",
    ],
    [
      "e-mail without a server",
      { contacts: [{ id: "a", name: "A", ways: [{ kind: "email", to: "a@b.example" }] }] },
      "give the mail server",
    ],
    [
      "a short secret",
      { contacts: [{ id: "a", name: "A", ways: [{ ...hook, secret: "short" }] }] },
      "24",
    ],
    [
      "an address that is none",
      { contacts: [{ id: "a", name: "A", ways: [{ ...hook, url: "file:///etc/passwd" }] }] },
      "URL",
    ],
    ["a time that is none", { quietHours: { from: "25:00", to: "06:00" } }, "time of day"],
  ])("%s is refused with the reason", (_, change, reason) => {
    const parsed = notifySettingsSchema.safeParse({ contacts: [], chains: [], ...change });
    expect(parsed.success).toBe(false);
    expect(parsed.error?.issues.map((issue) => issue.message).join(" ")).toContain(reason);
  });
});
