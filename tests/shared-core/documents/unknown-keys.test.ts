import { stationSchema } from "@leeward/shared-core/documents/station.ts";
import { nearestKey, unknownKeys } from "@leeward/shared-core/documents/unknown-keys.ts";
import { describe, expect, it } from "vitest";
import { migStation, tigStation } from "../../accuracy/stations.ts";

describe("keys that a description's schema does not know", () => {
  it("are none in descriptions in good order", () => {
    for (const station of [tigStation(), migStation()]) {
      expect(unknownKeys(stationSchema, station)).toEqual([]);
    }
  });

  it("are named with their place and the nearest known one, at any depth", () => {
    const { flowDevice, ...rest } = tigStation();
    const station = {
      ...rest,
      flowDevic: flowDevice,
      hose: { lengthM: 4, boreMm: 6, lenghtM: 5 },
      cylinder: { ...rest.cylinder!, waterVolumeUpercent: 2 },
      flowDevice: { ...flowDevice!, raedAt: "float-top" },
      plannedOff: [{ days: ["mon"], from: "06:00", to: "07:00", frm: 1 }],
    };
    const found = Object.fromEntries(
      unknownKeys(stationSchema, station).map(({ path, message }) => [path, message]),
    );
    expect(found.flowDevic).toContain("did you mean flowDevice?");
    expect(found["hose.lenghtM"]).toContain("did you mean lengthM?");
    expect(found["cylinder.waterVolumeUpercent"]).toContain("did you mean waterVolumeUPercent?");
    expect(found["flowDevice.raedAt"]).toContain("did you mean readAt?");
    expect(found["plannedOff[0].frm"]).toContain("did you mean from?");
    expect(Object.keys(found)).toHaveLength(5);
  });

  it("far from any known one are named without a guess", () => {
    const [key] = unknownKeys(stationSchema, { ...tigStation(), colourOfDoor: "red" });
    expect(key).toEqual({
      path: "colourOfDoor",
      message: "is not known, so it is kept but not used",
    });
    expect(nearestKey("hoze", ["hose", "node"])).toBe("hose");
  });
});
