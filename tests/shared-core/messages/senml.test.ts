import { isRelativeTime, resolveSenml } from "@leeward/shared-core/messages/senml.ts";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

function resolved(pack: unknown) {
  const result = resolveSenml(pack);
  if (!result.ok) throw new Error(result.fault.message);
  return result.value;
}

function reason(pack: unknown): string {
  const result = resolveSenml(pack);
  return result.ok ? "accepted" : result.fault.reason;
}

describe("resolving SenML", () => {
  it("reads the multiple-data-point example of RFC 8428, section 5.1.3", () => {
    // Source: RFC 8428, section 5.1.3, first pack, and its resolved form in section 5.1.4 in spirit.
    const records = resolved([
      {
        bn: "urn:dev:ow:10e2073a0108006:",
        bt: 1.276020076001e9,
        bu: "A",
        bver: 5,
        n: "voltage",
        u: "V",
        v: 120.1,
      },
      { n: "current", t: -5, v: 1.2 },
      { n: "current", t: -4, v: 1.3 },
      { n: "current", v: 1.7 },
    ]);
    expect(records).toEqual([
      { name: "urn:dev:ow:10e2073a0108006:voltage", unit: "V", time: 1276020076.001, value: 120.1 },
      { name: "urn:dev:ow:10e2073a0108006:current", unit: "A", time: 1276020071.001, value: 1.2 },
      { name: "urn:dev:ow:10e2073a0108006:current", unit: "A", time: 1276020072.001, value: 1.3 },
      { name: "urn:dev:ow:10e2073a0108006:current", unit: "A", time: 1276020076.001, value: 1.7 },
    ]);
  });

  it("adds the base value, and lets it stand alone (section 4.3 and 4.6)", () => {
    expect(resolved([{ bn: "a:", bv: 20, n: "x", v: 3 }, { n: "x" }]).map((r) => r.value)).toEqual([
      23, 20,
    ]);
  });

  it("takes a record with base fields only as no measurement", () => {
    expect(
      resolved([
        { bn: "a:", bt: 1.7e9 },
        { n: "x", vb: true },
      ]),
    ).toEqual([{ name: "a:x", unit: null, time: 1.7e9, value: true }]);
  });

  it("takes times below 2^28 as relative (section 4.5.3)", () => {
    expect(isRelativeTime(2 ** 28 - 1)).toBe(true);
    expect(isRelativeTime(2 ** 28)).toBe(false);
    expect(isRelativeTime(-10)).toBe(true);
  });

  it("ignores unknown fields but not those that must be understood (section 4.4)", () => {
    expect(reason([{ n: "x", v: 1, colour: "blue" }])).toBe("accepted");
    expect(reason([{ n: "x", v: 1, colour_: "blue" }])).toBe("not-senml");
  });

  it.each([
    ["an object", { n: "x", v: 1 }, "not-senml"],
    ["null", null, "not-senml"],
    ["an empty pack", [], "empty-pack"],
    ["base fields only", [{ bn: "a:" }], "empty-pack"],
    ["a record that is a number", [4], "not-senml"],
    ["a text as v", [{ n: "x", v: "4" }], "wrong-type"],
    ["a number as n", [{ n: 4, v: 4 }], "wrong-type"],
    ["two values", [{ n: "x", v: 4, vs: "4" }], "not-senml"],
    ["no value", [{ n: "x" }], "not-senml"],
    ["a data value", [{ n: "x", vd: "aGk" }], "wrong-type"],
    ["a later version", [{ bver: 11, n: "x", v: 4 }], "senml-version"],
    [
      "two versions",
      [
        { bver: 10, n: "x", v: 4 },
        { bver: 9, n: "x", v: 4 },
      ],
      "senml-version",
    ],
    ["a name with a blank", [{ n: "a b", v: 4 }], "not-senml"],
    ["a name that begins with a colon", [{ n: ":a", v: 4 }], "not-senml"],
    ["a sum beyond all numbers", [{ n: "x", bv: 1.7e308, v: 1.7e308 }], "impossible-value"],
  ])("refuses %s", (_name, pack, expected) => {
    expect(reason(pack)).toBe(expected);
  });

  it("gives the same records with base fields and without (property)", () => {
    const record = fc.record({
      n: fc.stringMatching(/^[a-z][a-z0-9-]{0,8}$/),
      t: fc.integer({ min: -1000, max: 1000 }),
      v: fc.integer({ min: -100_000, max: 100_000 }),
    });
    const base = fc.record({
      bn: fc.stringMatching(/^[a-z]{1,5}:$/),
      bt: fc.integer({ min: 2 ** 28 + 2000, max: 2 ** 31 }),
      bv: fc.integer({ min: -1000, max: 1000 }),
    });
    fc.assert(
      fc.property(base, fc.array(record, { minLength: 1, maxLength: 20 }), (b, records) => {
        const packed = [{ ...b, ...records[0] }, ...records.slice(1)];
        const plain = records.map(({ n, t, v }) => ({ n: b.bn + n, t: b.bt + t, v: b.bv + v }));
        expect(resolved(packed)).toEqual(resolved(plain));
      }),
    );
  });

  it("never throws, whatever it is given (property)", () => {
    fc.assert(
      fc.property(fc.anything(), (input) => {
        const result = resolveSenml(input);
        expect(typeof result.ok).toBe("boolean");
      }),
      { numRuns: 500 },
    );
    const wild = fc.dictionary(
      fc.constantFrom("bn", "bt", "bu", "bv", "bver", "n", "u", "v", "vs", "vb", "vd", "t", "x_"),
      fc.oneof(fc.string(), fc.double(), fc.boolean(), fc.constant(null)),
    );
    fc.assert(
      fc.property(fc.array(wild), (pack) => {
        const result = resolveSenml(pack);
        if (!result.ok) expect(result.fault.message.length).toBeGreaterThan(10);
      }),
      { numRuns: 500 },
    );
  });
});
