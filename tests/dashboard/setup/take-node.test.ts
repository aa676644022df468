import { expect, test } from "vitest";
import { nodesElsewhere } from "../../../dashboard/setup/take-node.ts";

const at = (id: string, node: string | null) => ({
  id,
  site: id.split(".")[0] ?? "",
  description: { node },
});
const stations = [
  at("north.bay-1", "n-01"),
  at("north.bay-2", "n-02"),
  at("north.bay-3", null),
  at("south.bay-1", "n-09"),
];
const ring = {
  description: { site: "north", node: "n-05" },
} as unknown as Parameters<typeof nodesElsewhere>[3][number];
const elsewhere = (base: string | null, taken: { node: string; station: string } | null = null) =>
  [...nodesElsewhere({ site: "north", taken }, base, stations, [ring])].sort();

test.each([
  ["a new station", null, null, ["n-01", "n-02", "n-05"]],
  ["a station that keeps its own", "north.bay-1", null, ["n-02", "n-05"]],
  ["one that takes a node", null, { node: "n-01", station: "north.bay-1" }, ["n-02", "n-05"]],
  [
    "one that takes a node which has moved on meanwhile",
    null,
    { node: "n-07", station: "north.bay-1" },
    ["n-01", "n-02", "n-05"],
  ],
])("%s is refused the nodes that others keep", (_, base, taken, nodes) => {
  expect(elsewhere(base, taken)).toEqual(nodes);
});
