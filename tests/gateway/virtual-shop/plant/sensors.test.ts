import { describe, expect, it } from "vitest";
import { argonPlant, cylinderBar, drop } from "./bench-station.ts";

const mean = (values: number[]) => values.reduce((a, b) => a + b, 0) / values.length;

describe("sensors of the plant", () => {
  it("err within their class, with drift and hysteresis counted", () => {
    for (let seed = 1; seed <= 60; seed += 1) {
      const plant = argonPlant({ presentBar: 20 + seed * 3 }, seed);
      const read = mean(Array.from({ length: 200 }, () => plant.readSensors().cylinderPa)) / 1e5;
      expect(Math.abs(read - cylinderBar(plant))).toBeLessThan(0.005 * 250 + 0.01);
    }
  });

  it("spread their errors over the class from seed to seed", () => {
    const errors = Array.from({ length: 200 }, (_, k) => {
      const plant = argonPlant({ presentBar: 120 }, k + 1);
      return plant.sensors.cylinder.zeroErrorPa / (0.005 * 250e5);
    });
    expect(Math.abs(mean(errors))).toBeLessThan(0.12);
    expect(Math.max(...errors)).toBeGreaterThan(0.7);
    expect(Math.min(...errors)).toBeLessThan(-0.7);
  });

  it("have noise of the stated size and steps of the converter", () => {
    const plant = argonPlant({ presentBar: 120 });
    const values = Array.from({ length: 4000 }, () => plant.readSensors().cylinderPa);
    const m = mean(values);
    const sigma = Math.sqrt(mean(values.map((v) => (v - m) ** 2)));
    expect(sigma).toBeGreaterThan(2800);
    expect(sigma).toBeLessThan(3300);
    const step = plant.sensors.cylinder.config.stepPa;
    for (const v of values.slice(0, 50))
      expect(Math.abs(v / step - Math.round(v / step))).toBeLessThan(1e-6);
  });

  it("give temperature in sixteenths of a degree", () => {
    const plant = argonPlant({ presentBar: 120 });
    for (let k = 0; k < 50; k += 1) {
      plant.step(1);
      const c = plant.readSensors().wallC;
      expect(c * 16).toBe(Math.round(c * 16));
      expect(Math.abs(c - 20)).toBeLessThan(0.7);
    }
  });

  it("fail on demand", () => {
    const plant = argonPlant({ presentBar: 120 });
    plant.sensors.cylinder.fault = "open";
    const line = plant.sensors.lines[0];
    if (!line) throw new Error("no line sensor");
    line.fault = "stuck";
    const first = plant.readSensors().linePa;
    expect(plant.readSensors().cylinderFault).toBe(1);
    drop(plant).torchOpen = true;
    plant.step(10);
    expect(plant.readSensors().linePa).toBe(first);
    line.fault = null;
    expect(plant.readSensors().linePa).toBeLessThan(first - 10000);
    const wall = plant.sensors.wall;
    if (!wall) throw new Error("no wall probe");
    wall.fault = "fallen-off";
    plant.inputs.airC = 35;
    plant.step(300);
    expect(plant.readSensors().wallC).toBeGreaterThan(33);
  });
});
