import { ageLimitS } from "@leeward/shared-core/estimation/age-limit.ts";
import { describe, expect, test } from "vitest";
import { type FreshnessInput, freshness } from "../../../dashboard/display/freshness.ts";

const flowing: FreshnessInput = {
  connection: "live",
  t: 1000,
  mode: "flowing",
  nowS: 1003,
  paceS: 2,
  speed: 1,
};

describe("never a stale number in a live look", () => {
  test("a fresh value is live and carries its age", () => {
    expect(freshness(flowing)).toEqual({ state: "live", ageS: 3 });
  });

  test("without the gateway nothing is live, however young", () => {
    expect(freshness({ ...flowing, connection: "lost" }).state).toBe("old");
    expect(freshness({ ...flowing, connection: "connecting" }).state).toBe("old");
  });

  test("a flowing value goes old after 18 s, also where the listed pace was an idle one", () => {
    expect(freshness({ ...flowing, nowS: 1018 }).state).toBe("live");
    expect(freshness({ ...flowing, nowS: 1019 }).state).toBe("old");
    expect(freshness({ ...flowing, nowS: 1019, paceS: 60 }).state).toBe("old");
  });

  test("an idle node sends once a minute: three packs late is old", () => {
    const idle = { ...flowing, mode: "idle" as const, paceS: 60 };
    expect(freshness({ ...idle, nowS: 1180 }).state).toBe("live");
    expect(freshness({ ...idle, nowS: 1190 }).state).toBe("old");
  });

  test("a silent station is old at once", () => {
    expect(freshness({ ...flowing, mode: "silent", nowS: 1000 }).state).toBe("old");
  });

  test("nothing received is none, not old", () => {
    expect(freshness({ ...flowing, t: null, mode: null })).toEqual({ state: "none", ageS: null });
  });

  test("at demo speed the network's seconds count in demo seconds", () => {
    expect(ageLimitS("flowing", 2, 60) - ageLimitS("flowing", 2, 1)).toBe(3 * 59);
  });
});
