import { spawnSync } from "node:child_process";
import { createHmac } from "node:crypto";
import { join } from "node:path";
import { secretFrom, writeEnrolmentCode } from "@leeward/shared-core/messages/enrolment-code.ts";
import { describe, expect, test } from "vitest";
import { signUpdate, updateKeyOf } from "../../gateway/nodes/secrets.ts";
import type { SenmlRecord } from "./host.ts";

const stand = join(import.meta.dirname, "nodemcu.lua");
const dist = join(import.meta.dirname, "../../firmware/dist");

function run(chip: string, name: string, more = ""): string[] {
  const done = spawnSync("lua5.1", [stand, chip, dist, name, more], { encoding: "utf8" });
  expect(done.stderr).toBe("");
  return done.stdout.trim().split("\n");
}

function payloads(lines: string[], leaf: string): string[] {
  const start = `leeward/v1/north/n-07/${leaf} `;
  return lines.filter((line) => line.startsWith(start)).map((line) => line.slice(start.length));
}

function packs(lines: string[]): SenmlRecord[][] {
  return payloads(lines, "samples").map((text) => JSON.parse(text) as SenmlRecord[]);
}

function all(found: SenmlRecord[][], name: string): SenmlRecord[] {
  return found.flat().filter((record) => record.n === name);
}

for (const chip of ["esp8266", "esp32"]) {
  describe(`port file of the ${chip}, against a stand-in for its modules`, () => {
    test("reads converter and probes by their protocols and reports over MQTT", () => {
      const lines = run(chip, "plain");
      const found = packs(lines);
      expect(found[0]?.[0]?.bn).toBe("urn:dev:mac:0024befffefe804f:");
      // 345 kPa and 18 MPa, within a step of the converter.
      for (const { v } of all(found, "line-pressure"))
        expect(Math.abs((v ?? 0) - 345_000)).toBeLessThan(50);
      const cylinder = all(found, "cylinder-pressure");
      expect(cylinder.length).toBeGreaterThan(8);
      for (const { v } of cylinder) expect(Math.abs((v ?? 0) - 18_000_000)).toBeLessThan(1200);
      expect(all(found, "supply-voltage").at(-1)?.v).toBe(5);
      expect(all(found, "cylinder-temperature").at(-1)?.v).toBe(20.06);
      expect(all(found, "regulator-temperature").at(-1)?.v).toBe(-5.5);
      expect(all(found, "arc").at(-1)?.vb).toBe(false);
      expect(found.flat().some((record) => record.n.endsWith("/fault"))).toBe(false);
    });

    test("counts time across the wrap of its 31-bit microsecond counter", () => {
      const uptimes = all(packs(run(chip, "plain")), "uptime").map((record) => record.v ?? 0);
      expect(uptimes).toEqual([...uptimes].sort((a, b) => a - b));
      expect(uptimes.at(-1)).toBeGreaterThan(8);
      expect(uptimes.at(-1)).toBeLessThan(20);
    });

    test("without a provision it opens its set-up, takes a phone's word, and starts with it", () => {
      const secret = secretFrom(Array.from({ length: 22 }, (_, index) => (index * 5 + 2) % 32));
      const code = writeEnrolmentCode({ site: "north", node: "n-07", secret });
      const lines = run(chip, "blank", code);
      expect(lines.slice(0, 4)).toEqual([
        'leeward: The node does not know who it is (the code), its network, its gateway. leeward "help" lists what can be told here.',
        "access point leeward-804f open",
        "leeward: set-up at http://192.168.4.1/ in the network leeward-804f",
        `lamp ${lines[3]?.slice(-1)}`,
      ]);
      expect(lines[4]).toContain("node 0024befe804f, network none, gateway none.");
      const [page = "", redirect = "", stranger = "", saved = ""] = lines.slice(5);
      expect(page).toMatch(/^HTTP\/1.1 200 OK~.*<form method=post action=\/>.*name=code/);
      const [, length = "", content = ""] = /Content-Length: (\d+)~.*?~~(.*)$/.exec(page) ?? [];
      expect(content).toHaveLength(Number(length));
      expect(redirect).toContain("302 Found~");
      expect(stranger).toBe("closed");
      expect(saved).toContain("joins dock &amp; yard");
      expect(lines).toContain("restarts 1");
      // The stand-in refuses any other network, password, address, user or secret than was typed.
      expect(packs(lines).length).toBeGreaterThan(2);
    });

    test("a network that is lost: set-up opens after five minutes, behind the code's end, and closes again", () => {
      const lines = run(chip, "lost-network");
      const [opened = ""] = lines.filter((line) => line.startsWith("access point leeward"));
      expect(opened).toBe("access point leeward-804f t-secret");
      expect(lines.filter((line) => line.startsWith("served"))).toEqual([
        "served true",
        "served false",
      ]);
      expect(lines.at(-2)).not.toContain("restart");
    });

    test("a turn that raises is told, and twenty in a row start the chip anew", () => {
      const lines = run(chip, "raising");
      expect(lines.filter((line) => line.includes("a turn failed")).length).toBe(1);
      expect(lines).toContain("restarts 0");
      expect(lines.filter((line) => line.startsWith("restarts ")).at(-1)).not.toBe("restarts 0");
    });

    test("a bus that hangs is a fault of both channels, and heals", () => {
      const lines = run(chip, "stuck-bus");
      const found = packs(lines);
      expect(all(found, "line-pressure/fault").some((one) => one.vs === "open-circuit")).toBe(true);
      expect(found.at(-1)?.some((record) => record.n === "line-pressure")).toBe(true);
      const setups = Number(lines.find((line) => line.startsWith("setups"))?.split(" ")[1]);
      expect(setups).toBeGreaterThan(10);
    });

    test("a probe with a wrong checksum is an open circuit", () => {
      const found = packs(run(chip, "bad-probe"));
      expect(all(found, "cylinder-temperature/fault").at(-1)?.vs).toBe("open-circuit");
      expect(all(found, "cylinder-temperature")).toEqual([]);
    });

    test("five minutes without a broker: nothing raises, and all rows arrive afterwards", () => {
      const found = packs(run(chip, "outage"));
      const times = found
        .flatMap((pack) =>
          pack
            .filter((record) => record.n === "line-pressure")
            .map((record) => (pack[0]?.bt ?? 0) + (record.t ?? 0)),
        )
        .sort((a, b) => a - b);
      const gaps = times.slice(1).map((t, index) => t - (times[index] ?? 0));
      expect((times.at(-1) ?? 0) - (times[0] ?? 0)).toBeGreaterThan(330);
      expect(Math.max(...gaps)).toBeLessThanOrEqual(16);
    });

    test("an update is fetched piece by piece and checked by length and HMAC", () => {
      const bundle = Buffer.from("x".repeat(2000));
      const hmac = signUpdate(updateKeyOf("s3cret-secret"), bundle);
      expect(hmac).not.toBe(createHmac("sha256", "s3cret-secret").update(bundle).digest("hex"));
      const good = run(chip, "update", hmac);
      expect(payloads(good, "reply")).toEqual(['{"id":"u1","ok":true}']);
      expect(good.at(-1)).toBe("restarts 1 0 2000");
      const bad = run(chip, "bad-update");
      expect(payloads(bad, "reply")).toEqual(['{"id":"u2","ok":false,"why":"the HMAC differs"}']);
      expect(bad.at(-1)).toBe("restarts 0 nil");
    });

    test("a new bundle that does not come up gives way to the one before after three starts", () => {
      const lines = run(chip, "fallback");
      expect(lines.filter((line) => line.startsWith("leeward: "))).toHaveLength(3);
      expect(lines).toContain("back true nil");
      expect(packs(lines).length).toBeGreaterThan(0);
    });
  });
}
