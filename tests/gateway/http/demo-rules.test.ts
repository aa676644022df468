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
    ["a virtual one is not made real, with its invented past", real, virtual, 1, ["virtual"]],
    ["nor by saying so", { ...real, virtual: false }, virtual, 1, ["virtual"]],
    ["nor on a faster clock", real, virtual, 20, ["virtual", "station"]],
    ["a real one is changed", { ...real, altitudeM: 3 }, real, 1, []],
  ] as const)("%s", (_name, document, before, speed, faults) => {
    expect(paths(document, before, speed)).toEqual(faults);
  });

  it("who wants a virtual station as a real one is told the way to one of their own", () => {
    expect(demoFaults(real, virtual, 1)[0]?.message).toContain(
      "set up a station of your own under another name",
    );
  });
});
