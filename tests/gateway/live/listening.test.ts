import { describe, expect, test } from "vitest";
import { Listening } from "../../../gateway/live/listening.ts";

describe("since when the gateway hears its nodes", () => {
  // Ticks of a second; 3 min: three times the pace of an idle node (the contract's 60 s).
  const ticks = (listening: Listening, fromS: number, toS: number) => {
    for (let t = fromS; t <= toS; t++) listening.tick(t);
  };
  test("three minutes after it began", () => {
    const listening = new Listening(1);
    expect(listening.longEnough(1e9)).toBe(false);
    ticks(listening, 0, 179);
    expect(listening.longEnough(179)).toBe(false);
    ticks(listening, 180, 180);
    expect(listening.longEnough(180)).toBe(true);
  });
  test("anew after its machine slept, not after a busy minute", () => {
    const listening = new Listening(1);
    ticks(listening, 0, 300);
    ticks(listening, 360, 360);
    expect(listening.longEnough(360)).toBe(true);
    ticks(listening, 4000, 4179);
    expect(listening.longEnough(4179)).toBe(false);
    ticks(listening, 4180, 4180);
    expect(listening.longEnough(4180)).toBe(true);
  });
  test("a demo that runs a thousand times as fast ticks every 250 s, and is no sleeper", () => {
    const listening = new Listening(250);
    for (let t = 0; t <= 1000; t += 250) listening.tick(t);
    expect(listening.longEnough(1000)).toBe(true);
  });
});
