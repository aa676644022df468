import {
  readEnrolmentCode,
  readSecret,
  secretFrom,
  writeEnrolmentCode,
} from "@leeward/shared-core/messages/enrolment-code.ts";
import { secretAlphabet } from "@leeward/shared-core/messages/enrolment-names.ts";
import { describe, expect, it } from "vitest";

const symbols = Array.from({ length: 22 }, (_, index) => (index * 7 + 3) % 32);
const secret = secretFrom(symbols);

describe("a node's secret", () => {
  it("has 24 symbols that nobody confuses", () => {
    expect(secret).toMatch(/^[0-9A-HJKMNP-TV-Z]{24}$/);
    expect(() => secretFrom([...symbols, 1])).toThrow(RangeError);
    expect(() => secretFrom([32, ...symbols.slice(1)])).toThrow(RangeError);
  });

  it("is read as people type it", () => {
    const grouped = (secret.match(/.{4}/g) ?? []).join("-");
    for (const typed of [
      secret,
      grouped,
      grouped.toLowerCase(),
      ` ${grouped.replaceAll("-", " ")}\n`,
    ]) {
      expect(readSecret(typed)).toBe(secret);
    }
    const withLookalikes = secretFrom(symbols.map((_, index) => index % 2));
    expect(readSecret(withLookalikes.replaceAll("0", "o").replaceAll("1", "l"))).toBe(
      withLookalikes,
    );
  });

  it("is refused with any one symbol wrong, or two neighbours exchanged", () => {
    for (let at = 0; at < secret.length; at++) {
      for (const other of secretAlphabet) {
        if (other === secret[at]) continue;
        expect(readSecret(secret.slice(0, at) + other + secret.slice(at + 1))).toBeNull();
      }
      const [a, b] = [secret[at], secret[at + 1]];
      if (b === undefined || a === b) continue;
      expect(readSecret(secret.slice(0, at) + b + a + secret.slice(at + 2))).toBeNull();
    }
    for (const typed of ["", secret.slice(1), `${secret}0`, "U".repeat(24)]) {
      expect(readSecret(typed)).toBeNull();
    }
  });
});

describe("an enrolment code", () => {
  const who = { site: "north", node: "n-07", secret };

  it("goes and comes back", () => {
    const code = writeEnrolmentCode(who);
    expect(code).toMatch(/^north\/n-07\/([0-9A-Z]{4}-){5}[0-9A-Z]{4}$/);
    expect(readEnrolmentCode(code)).toEqual(who);
    expect(readEnrolmentCode(` ${code.toLowerCase()} `)).toEqual(who);
  });

  it.each([
    "",
    "north/n-07",
    `north/n-07/${secret}/x`,
    `north/n_07/${secret}`,
    `/n-07/${secret}`,
    `north/n-07/${secret.slice(0, -1)}`,
  ])("%j is none", (typed) => {
    expect(readEnrolmentCode(typed)).toBeNull();
  });
});
