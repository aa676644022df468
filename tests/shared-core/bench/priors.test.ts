import { benchPriors } from "@leeward/shared-core/bench/priors.ts";
import { describe, expect, it } from "vitest";

describe("what is taken as usual at the bench", () => {
  it.each(Object.entries(benchPriors))("%s is wide and says where it comes from", (_, prior) => {
    expect(prior.sigma).toBeGreaterThan(0);
    expect(prior.source).toMatch(/no source|from memory/);
  });
});
