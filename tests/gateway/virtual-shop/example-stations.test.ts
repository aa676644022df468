import { exampleSite, exampleStations } from "@leeward/gateway/virtual-shop/example-stations.ts";
import { plantConfigFor } from "@leeward/gateway/virtual-shop/plant/from-station.ts";
import { createPlant } from "@leeward/gateway/virtual-shop/plant/plant.ts";
import { stories } from "@leeward/gateway/virtual-shop/stories/index.ts";
import { tableWindow } from "@leeward/shared-core/demand/flow-window.ts";
import { describe, expect, it } from "vitest";

describe("example stations", () => {
  const stations = exampleStations();

  it("are six, virtual, with names and nodes of their own", () => {
    expect(stations.length).toBe(6);
    expect(new Set(stations.map((s) => s.station)).size).toBe(6);
    expect(new Set(stations.map((s) => s.node)).size).toBe(6);
    expect(new Set(stations.map((s) => s.cylinder?.gas)).size).toBe(5);
    for (const station of stations) {
      expect(station.virtual).toBe(true);
      expect(station.site).toBe(exampleSite().site);
      expect(station.name?.length ?? 0).toBeGreaterThan(5);
    }
  });

  it.each(stations.map((station, i) => [station.station, i] as const))(
    "%s has a window of flow, and its welder dials into it by what the scale shows",
    (_name, i) => {
      const station = stations[i]!;
      const procedure = station.procedure!;
      const table = tableWindow(procedure, station.cylinder!.composition);
      const low = procedure.minimumLpm ?? table.minimumLpm!;
      const high = procedure.maximumLpm ?? table.maximumLpm!;
      expect(low).toBeGreaterThan(4);
      expect(high).toBeGreaterThan(low);
      const device = station.flowDevice!;
      const perLpm = device.readingUnit === "CFH" ? 2.1188799727597 : 1;
      const shown = (device.reading ?? 0) / perLpm;
      expect(shown).toBeGreaterThan(low);
      expect(shown).toBeLessThan(high);
    },
  );

  it("flow truly inside the window at all stations but the one whose story is short flow", () => {
    const times = { startS: 1764057600, presentS: 1764057600 + 3.5 * 3600 };
    stories.forEach((story, i) => {
      const station = stations[i]!;
      const plant = createPlant(
        plantConfigFor(station, { startUnixS: times.startS, ...story.variation(times) }),
        3,
      );
      if (station.station === "hull-bay") plant.swap({ gaugePa: 18e5, temperatureK: 290 });
      plant.step(1);
      plant.setReading(story.reading);
      plant.inputs.drops[0]!.torchOpen = true;
      plant.step(60);
      const flow = plant.truth().drops[0]!.deviceLpm;
      const table = tableWindow(station.procedure!, station.cylinder!.composition);
      const low = station.procedure!.minimumLpm ?? table.minimumLpm!;
      const high = station.procedure!.maximumLpm ?? table.maximumLpm!;
      if (station.station === "hull-bay") expect(flow).toBeLessThan(0.9 * low);
      else {
        expect(flow).toBeGreaterThan(low);
        expect(flow).toBeLessThan(high);
      }
    });
  });
});
