import { describe, expect, it } from "vitest";
import { purgeVolumeL, volumesWanted } from "../../../shared-core/estimation/told.ts";

describe("a declared purge", () => {
  // Well mixed: volumes = ln(209 460 ppm of air / ppm wanted); US Standard Atmosphere 1976 for air.
  it.each([
    [{ oxygenPpm: 50 }, 8.34],
    [{ oxygenPpm: 1000 }, 5.34],
    [{ volumes: 6 }, 6],
    // What was told in so many words goes first.
    [{ volumes: 6, oxygenPpm: 50 }, 6],
  ])("%j wants %d volumes", (entry, volumes) => {
    expect(volumesWanted(entry, 0)).toBeCloseTo(volumes, 2);
  });
  it("by minutes alone wants none", () => expect(volumesWanted({ minutes: 20 }, 0)).toBeNull());
  // Well mixed, what is above the gas's own share falls as e^-volumes: (0.20946 - 0.02) / (0.03 - 0.02).
  it("with a gas that holds oxygen falls to that gas's share", () => {
    expect(volumesWanted({ oxygenPpm: 30_000 }, 0.02)).toBeCloseTo(Math.log(18.946), 6);
  });
  it.each([
    [50, 0.02],
    [20_000, 0.02],
    [209_460, 0],
    [300_000, 0],
  ])("%d ppm is never reached from air by a gas with a share of %d", (oxygenPpm, share) => {
    expect(volumesWanted({ oxygenPpm }, share)).toBeNull();
  });

  // pi/4 d² L, exact by definition.
  it.each([
    [{ boreMm: 100, lengthM: 6 }, 47.124],
    [{ volumeL: 12, boreMm: 100, lengthM: 6 }, 12],
  ])("%j is counted in %d L", (entry, litres) => {
    expect(purgeVolumeL(entry)).toBeCloseTo(litres, 3);
  });
  it.each([{ boreMm: 100 }, { lengthM: 6 }, { minutes: 5 }])("%j is not counted", (entry) => {
    expect(purgeVolumeL(entry)).toBeNull();
  });
});
