import {
  checkSamplePack,
  packIdentity,
  readSamplePack,
} from "@leeward/shared-core/messages/sample-pack.ts";
import { describe, expect, it } from "vitest";

const topic = { site: "north", node: "n-07" };
const t0 = 1764057600;

function reason(pack: unknown): string {
  const result = checkSamplePack(pack, topic);
  return result.ok ? "accepted" : result.fault.reason;
}

describe("a node's pack", () => {
  it("is read with its identity, uptime and samples", () => {
    const result = readSamplePack(
      JSON.stringify([
        { bn: "urn:dev:mac:0024befffe804ff1:", bt: t0, n: "boot", v: 17 },
        { n: "seq", v: 8123 },
        { n: "uptime", v: 300.5 },
        { n: "line-pressure", u: "Pa", t: -1, v: 345000 },
        { n: "line-pressure/fault", t: 0, vs: "noisy" },
        { n: "arc", t: 0, vb: true },
        { n: "thinned", vb: true },
      ]),
      topic,
    );
    expect(result).toEqual({
      ok: true,
      value: {
        site: "north",
        node: "n-07",
        hardware: "0024befffe804ff1",
        boot: 17,
        seq: 8123,
        uptime: { valueS: 300.5, time: t0, relative: false },
        thinned: true,
        samples: [
          { channel: "line-pressure", time: t0 - 1, relative: false, value: 345000 },
          { channel: "line-pressure/fault", time: t0, relative: false, value: "noisy" },
          { channel: "arc", time: t0, relative: false, value: true },
        ],
      },
    });
    if (result.ok) expect(packIdentity(result.value)).toBe("0024befffe804ff1|17|8123");
  });

  it("is known by its node where the hardware address is not", () => {
    const result = checkSamplePack(
      [
        { bn: "north/n-07:", n: "boot", v: 1 },
        { n: "seq", v: 2 },
      ],
      topic,
    );
    expect(result.ok && packIdentity(result.value)).toBe("north/n-07|1|2");
  });

  it("may leave the base name out: the topic names the node", () => {
    expect(reason([{ n: "line-pressure", u: "Pa", t: t0, v: 0 }])).toBe("accepted");
  });

  const line = { n: "line-pressure", u: "Pa", t: t0, v: 345000 };
  it.each([
    ["another node's base name", [{ bn: "north/n-08:", ...line }], "base-name-contradicts-topic"],
    ["another site's base name", [{ bn: "south/n-07:", ...line }], "base-name-contradicts-topic"],
    [
      "a base name of no known form",
      [{ bn: "urn:dev:ops:1-2-3:", ...line }],
      "base-name-contradicts-topic",
    ],
    [
      "two hardware addresses",
      [
        { bn: "urn:dev:mac:0024befffe804ff1:", ...line },
        { bn: "urn:dev:mac:0024befffe804ff2:", ...line },
      ],
      "contradictory-pack",
    ],
    ["an unknown record", [{ ...line, n: "hose-pressure" }], "unknown-record"],
    ["a fault of an unknown channel", [{ n: "boot/fault", vs: "stuck" }], "unknown-record"],
    ["bar", [{ ...line, u: "bar", v: 3.45 }], "wrong-unit"],
    ["no unit", [{ n: "line-pressure", v: 345000 }], "wrong-unit"],
    ["kelvin", [{ n: "cylinder-temperature", u: "K", v: 288 }], "wrong-unit"],
    ["a pressure as text", [{ n: "line-pressure", u: "Pa", vs: "345000" }], "wrong-type"],
    ["a pressure as truth", [{ n: "line-pressure", u: "Pa", vb: true }], "wrong-type"],
    ["an arc as number", [{ n: "arc", v: 1 }], "wrong-type"],
    ["a fault as number", [{ n: "line-pressure/fault", v: 1 }], "wrong-type"],
    ["a fault word of its own", [{ n: "line-pressure/fault", vs: "tired" }], "impossible-value"],
    ["2000 bar", [{ ...line, v: 2e8 }], "impossible-value"],
    ["far below vacuum", [{ ...line, v: -6e5 }], "impossible-value"],
    ["500 °C", [{ n: "cylinder-temperature", u: "Cel", v: 500 }], "impossible-value"],
    ["a negative supply", [{ n: "supply-voltage", u: "V", v: -1 }], "impossible-value"],
    ["half a boot", [{ n: "boot", v: 1.5 }, line], "impossible-value"],
    ["a negative number of the pack", [{ n: "seq", v: -1 }, line], "impossible-value"],
    ["a boot beyond 31 bits", [{ n: "boot", v: 2 ** 31 }, line], "impossible-value"],
    ["a negative uptime", [{ n: "uptime", v: -1 }, line], "impossible-value"],
    ["two boots", [{ n: "boot", v: 1 }, { n: "boot", v: 2 }, line], "contradictory-pack"],
    ["a boot as text", [{ n: "boot", vs: "1" }, line], "wrong-type"],
    ["thinned as number", [{ n: "thinned", v: 1 }, line], "wrong-type"],
  ])("with %s is refused", (_name, pack, expected) => {
    expect(reason(pack)).toBe(expected);
  });

  it("says what is wrong, where, and what to do", () => {
    const result = checkSamplePack([{ n: "line-pressure", u: "bar", v: 3.45 }], topic);
    expect(!result.ok && result.fault.message).toBe(
      "line-pressure: is in bar, not in Pa. Send the unit of the wire contract: Pa, Cel, kg or V.",
    );
  });

  it("names its own node where there is no topic", () => {
    const result = checkSamplePack([{ bn: "north/n-09:", ...line }], null);
    expect(result.ok && [result.value.site, result.value.node]).toEqual(["north", "n-09"]);
  });

  it("that is no JSON is refused with the parser's complaint", () => {
    const result = readSamplePack('[{"n": ', topic);
    expect(!result.ok && result.fault.reason).toBe("not-json");
  });
});
