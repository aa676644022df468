import { describe, expect, test } from "vitest";
import { splitAdvice, stopped, together } from "../../../dashboard/display/advice.ts";

describe("advice at a glance", () => {
  test("short advice stays whole", () => {
    expect(splitAdvice("Set it to 12.6 L/min. Then look.")).toEqual({
      first: "Set it to 12.6 L/min. Then look.",
      rest: "",
    });
    expect(splitAdvice("")).toEqual({ first: "", rest: "" });
  });

  test("long advice is cut between sentences, and nothing of it is lost", () => {
    const text =
      "More than heat explains: a leaking seat. Close the cylinder valve. Let the gas out with the gas test or purge button; never with the trigger while the power source is on. Watch the line fall to 0.";
    const { first, rest } = splitAdvice(text);
    expect(first).toBe("More than heat explains: a leaking seat. Close the cylinder valve.");
    expect(`${first} ${rest}`).toBe(text);
  });

  test("a first sentence that is long is not cut", () => {
    const long = `${"word ".repeat(60).trim()}.`;
    expect(splitAdvice(`${long} And more.`)).toEqual({ first: long, rest: "And more." });
  });

  test("titles end with a stop", () => {
    expect(stopped("Cylinder low: 8 % left")).toBe("Cylinder low: 8 % left.");
    expect(stopped("Too little gas.")).toBe("Too little gas.");
  });

  test("a figure keeps its unit, whatever follows it", () => {
    expect(together("up to 10.3 L/min. In 12 min, 5 minutes, 22 %.")).toBe(
      "up to 10.3\u00a0L/min. In 12\u00a0min, 5 minutes, 22\u00a0%.",
    );
  });
});
