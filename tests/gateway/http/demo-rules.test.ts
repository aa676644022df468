import { describe, expect, it } from "vitest";
import { demoFaults } from "../../../gateway/http/demo-rules.ts";
import { exampleStation } from "../support.ts";

const real = exampleStation();
const virtual = exampleStation({ virtual: true });
const paths = (...args: Parameters<typeof demoFaults>) =>
  demoFaults(...args).map((one) => one.path);

describe("beside the demo, whose stations are deleted when it ends,", () => {
  it.each([
    ["a real station is taken", real, null, 1, []],
    ["a real one is refused while the demo's clock runs faster", real, null, 20, ["station"]],
    ["nobody but the demo makes a virtual one", virtual, null, 1, ["virtual"]],
    ["a real one does not become virtual", virtual, real, 1, ["virtual"]],
    ["a virtual one is changed", { ...virtual, altitudeM: 3 }, virtual, 20, []],
    ["a virtual one gets no other node", { ...virtual, node: "n-31" }, virtual, 1, ["node"]],
    ["a virtual one does not lose its node", { ...virtual, node: null }, virtual, 1, ["node"]],
    ["a virtual one that is made real stays", real, virtual, 1, []],
  ] as const)("%s", (_name, document, before, speed, faults) => {
    expect(paths(document, before, speed)).toEqual(faults);
  });
});
