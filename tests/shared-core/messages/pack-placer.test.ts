import { holdLimitS, PackPlacer } from "@leeward/shared-core/messages/pack-placer.ts";
import { checkSamplePack, type SentPack } from "@leeward/shared-core/messages/sample-pack.ts";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const t0 = 1764057600;

/** A pack whose samples lie `ages` seconds before its moment, at `uptime` seconds of boot `boot`. */
function pack(options: {
  boot?: number;
  uptime?: number;
  unix?: number;
  ages: number[];
}): SentPack {
  const { boot = 1, uptime, unix, ages } = options;
  const records: Record<string, unknown>[] = [
    { bn: "north/n-07:", bt: unix ?? 0, n: "boot", v: boot },
    ...(uptime === undefined ? [] : [{ n: "uptime", v: uptime }]),
    ...ages.map((age) => ({ n: "line-pressure", u: "Pa", t: -age, v: 1000 + age })),
  ];
  const checked = checkSamplePack(records, { site: "north", node: "n-07" });
  if (!checked.ok) throw new Error(checked.fault.message);
  return checked.value;
}

const timesOf = (receipts: { pack: { samples: { t: number }[] } }[]) =>
  receipts.map((receipt) => receipt.pack.samples.map((sample) => sample.t));

describe("placing relative times", () => {
  it("lets absolute packs through as they are", () => {
    const [receipt] = new PackPlacer().receive(t0 + 1, pack({ unix: t0, ages: [1, 0] }));
    expect(receipt?.pack.samples.map((sample) => sample.t)).toEqual([t0 - 1, t0]);
    expect(receipt?.pack.stampedAtReceipt).toBe(false);
    expect(receipt?.received).toBe(t0 + 1);
  });

  it("without uptime stamps at receipt, and says so", () => {
    const [receipt] = new PackPlacer().receive(t0, pack({ ages: [10, 0] }));
    expect(receipt?.pack.samples.map((sample) => sample.t)).toEqual([t0 - 10, t0]);
    expect(receipt?.pack.stampedAtReceipt).toBe(true);
  });

  it("never stamps into the future: positive relative times end at receipt", () => {
    const [receipt] = new PackPlacer().receive(t0, pack({ ages: [-30, -20] }));
    expect(receipt?.pack.samples.map((sample) => sample.t)).toEqual([t0, t0 - 10]);
  });

  it("with uptime places exactly, backwards too, once the boot knows a time", () => {
    const placer = new PackPlacer();
    // Measured at uptimes 10 and 20, received late and together.
    expect(placer.receive(t0 + 100, pack({ uptime: 10, ages: [2, 0] }))).toEqual([]);
    expect(placer.receive(t0 + 100, pack({ uptime: 20, ages: [0] }))).toEqual([]);
    expect(placer.heldCount).toBe(2);
    // Uptime 30 is t0 + 30: the boot began at t0.
    const released = placer.receive(t0 + 101, pack({ unix: t0 + 30, uptime: 30, ages: [0] }));
    expect(timesOf(released)).toEqual([[t0 + 8, t0 + 10], [t0 + 20], [t0 + 30]]);
    expect(released.every((receipt) => !receipt.pack.stampedAtReceipt)).toBe(true);
    expect(released.every((receipt) => receipt.received === t0 + 101)).toBe(true);
    // From then on at once.
    expect(timesOf(placer.receive(t0 + 200, pack({ uptime: 40, ages: [0] })))).toEqual([[t0 + 40]]);
  });

  it("knows boots apart", () => {
    const placer = new PackPlacer();
    placer.receive(t0, pack({ boot: 1, unix: t0, uptime: 50, ages: [0] }));
    expect(placer.receive(t0 + 10, pack({ boot: 2, uptime: 5, ages: [0] }))).toEqual([]);
  });

  it("gives up after the hold: stamped by the least delayed pack, then at once", () => {
    const placer = new PackPlacer();
    // Boot began at t0; the first pack was 100 s late, the second 5 s.
    placer.receive(t0 + 110, pack({ uptime: 10, ages: [0] }));
    placer.receive(t0 + 125, pack({ uptime: 120, ages: [0] }));
    expect(placer.expire(t0 + 110 + holdLimitS - 1)).toEqual([]);
    const released = placer.expire(t0 + 110 + holdLimitS + 50);
    expect(timesOf(released)).toEqual([[t0 + 15], [t0 + 125]]);
    expect(released.every((receipt) => receipt.pack.stampedAtReceipt)).toBe(true);
    // As received at the limit, whenever the gateway came to look.
    expect(released.map((receipt) => receipt.received)).toEqual([
      t0 + 110 + holdLimitS,
      t0 + 110 + holdLimitS,
    ]);
    expect(timesOf(placer.receive(t0 + 400, pack({ uptime: 395, ages: [0] })))).toEqual([
      [t0 + 400],
    ]);
  });

  it("becomes exact again when a time comes after all", () => {
    const placer = new PackPlacer();
    placer.receive(t0 + 10, pack({ uptime: 5, ages: [0] }));
    placer.expire(t0 + 1000);
    placer.receive(t0 + 1001, pack({ unix: t0 + 1000, uptime: 1000, ages: [0] }));
    const [receipt] = placer.receive(t0 + 1100, pack({ uptime: 1050, ages: [0] }));
    expect(receipt?.pack.samples[0]?.t).toBe(t0 + 1050);
    expect(receipt?.pack.stampedAtReceipt).toBe(false);
  });

  it("places every sample within a millisecond of the truth, in whatever order (property)", () => {
    const measured = fc.record({
      uptime: fc.integer({ min: 0, max: 5000 }),
      delay: fc.integer({ min: 0, max: 150 }),
      clocked: fc.boolean(),
      ages: fc.array(fc.integer({ min: 0, max: 60 }), { minLength: 1, maxLength: 5 }),
    });
    fc.assert(
      fc.property(fc.array(measured, { minLength: 1, maxLength: 30 }), (packs) => {
        const placer = new PackPlacer();
        const inOrder = packs
          .map((one) => ({ ...one, received: t0 + one.uptime + one.delay }))
          .sort((a, b) => a.received - b.received);
        const anyClocked = inOrder.some((one) => one.clocked);
        const placed: { t: number; value: number; stamped: boolean }[] = [];
        const note = (receipts: ReturnType<PackPlacer["receive"]>) => {
          for (const { pack: one } of receipts) {
            for (const { t, value } of one.samples) {
              placed.push({ t, value: value as number, stamped: one.stampedAtReceipt });
            }
          }
        };
        const truth: number[] = [];
        for (const { uptime, received, clocked, ages } of inOrder) {
          truth.push(...ages.map((age) => t0 + uptime - age));
          note(
            placer.receive(
              received,
              pack(clocked ? { uptime, unix: t0 + uptime, ages } : { uptime, ages }),
            ),
          );
        }
        note(placer.expire(Number.POSITIVE_INFINITY));
        // Nothing lost, nothing twice.
        expect(placed.length).toBe(truth.length);
        const exact = placed.filter((one) => !one.stamped).map((one) => one.t);
        const left = [...truth];
        for (const t of exact) {
          const index = left.findIndex((one) => Math.abs(one - t) < 0.0011);
          expect(index).toBeGreaterThanOrEqual(0);
          left.splice(index, 1);
        }
        if (!anyClocked) expect(exact).toEqual([]);
      }),
    );
  });

  it("continues exactly from its serialised state (property)", () => {
    const step = fc.record({
      boot: fc.integer({ min: 1, max: 3 }),
      uptime: fc.integer({ min: 0, max: 1000 }),
      clocked: fc.boolean(),
      wait: fc.integer({ min: 0, max: 100 }),
    });
    fc.assert(
      fc.property(fc.array(step, { maxLength: 30 }), fc.nat(30), (steps, cut) => {
        let straight = new PackPlacer();
        let resumed = new PackPlacer();
        let nowS = t0;
        for (const [index, { boot, uptime, clocked, wait }] of steps.entries()) {
          if (index === cut) resumed = PackPlacer.restore(resumed.serialise());
          nowS += wait;
          const one = pack(
            clocked ? { boot, uptime, unix: nowS, ages: [3, 0] } : { boot, uptime, ages: [3, 0] },
          );
          expect(resumed.receive(nowS, one)).toEqual(straight.receive(nowS, one));
        }
        expect(resumed.serialise()).toBe(straight.serialise());
        straight = PackPlacer.restore(straight.serialise());
        expect(straight.heldCount).toBe(resumed.heldCount);
      }),
    );
  });
});
