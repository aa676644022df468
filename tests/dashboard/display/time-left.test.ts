import { describe, expect, test } from "vitest";
import { smallerRemaining, timeLeft } from "../../../dashboard/display/time-left.ts";
import { lastsFor } from "../../../dashboard/display/will-it-last.ts";
import { tigStation } from "../../accuracy/stations.ts";

const minutes = (median: number, low: number, high: number) => ({ median, low, high });
const clockMinutes = { median: null };

describe("time left", () => {
  test("screens use the smaller of the two", () => {
    const remaining = {
      gasOnMinutes: minutes(153, 145, 162),
      atTargetMinutes: minutes(98, 92, 104),
      clockMinutes,
    };
    expect(smallerRemaining(remaining)).toBe(remaining.atTargetMinutes);
    expect(timeLeft(remaining).text).toBe("98 min");
  });

  test("one unknown leaves the other; both unknown is a dash with its reason", () => {
    const unknown = { median: null, why: "flow not known" };
    expect(
      timeLeft({ gasOnMinutes: unknown, atTargetMinutes: minutes(62, 58, 66), clockMinutes }).text,
    ).toBe("62 min");
    expect(
      timeLeft({ gasOnMinutes: unknown, atTargetMinutes: unknown, clockMinutes }),
    ).toMatchObject({
      text: "–",
      median: null,
      why: "flow not known",
    });
  });

  test("an interval too wide for one figure is shown as such", () => {
    const wide = minutes(240, 180, 300);
    expect(timeLeft({ gasOnMinutes: wide, atTargetMinutes: wide, clockMinutes }).text).toBe(
      "3 – 5 h",
    );
  });
});

describe("will it last?", () => {
  const left = timeLeft({
    gasOnMinutes: minutes(62, 58, 66),
    atTargetMinutes: minutes(70, 66, 75),
    clockMinutes,
  });

  const gasOn = (time: typeof left, gasOnMinutes: number) =>
    lastsFor(time, tigStation(), 8, { gasOnMinutes });

  test("yes and no need certainty; between them a probability", () => {
    expect(gasOn(left, 50).verdict).toBe("yes");
    expect(gasOn(left, 75).verdict).toBe("no");
    const maybe = gasOn(left, 62);
    expect(maybe.verdict).toBe("maybe");
    expect(maybe.probability).toBeCloseTo(0.5, 6);
    // One sigma below the median (4 / 1.96 minutes): 84.13 % of a normal distribution.
    expect(gasOn(left, 62 - 4 / 1.96).probability).toBeCloseTo(0.8413, 3);
  });

  test("an unknown content is no yes", () => {
    const unknown = { text: "–", median: null, low: null, high: null, why: "liquid" };
    expect(gasOn(unknown, 1)).toEqual({
      verdict: "unknown",
      probability: null,
      neededMinutes: 1,
    });
  });

  test("a seam's gas-on time counts pre-flow, post-flow and the hose at every start", () => {
    const station = tigStation();
    const procedure = { ...station.procedure!, preflowS: 0.5, postflowS: 15 };
    const { neededMinutes } = lastsFor(left, { ...station, procedure }, 8, {
      lengthM: 2,
      speedCmPerMin: 15,
      starts: 4,
    });
    // 2 m at 15 cm/min are 13.33 min; 4 starts of 15.5 s outside the arc add 62 s, and the hose
    // (0.385 L above rest at 3.45 bar, 2.89 s at 8 L/min) 11.6 s.
    expect(neededMinutes).toBeCloseTo(13.333 + (62 + 11.55) / 60, 2);
  });
});
