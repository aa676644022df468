import { expect, test } from "vitest";
import { heldContentText } from "../../../dashboard/display/held-content.ts";
import { exampleEstimate } from "./examples.ts";

const held = (ageS?: number) => {
  const estimate = exampleEstimate();
  return { ...estimate, content: { ...estimate.content, ageS } };
};

test("a held content ages on while nothing comes from its node", () => {
  const estimate = held(10);
  expect(heldContentText(estimate, estimate.t + 2)).toBe("content as it was 12 s ago");
  expect(heldContentText(estimate, estimate.t + 3600)).toBe("content as it was 60 min ago");
});

test("a clock behind the estimate makes it no younger than it was", () => {
  const estimate = held(10);
  expect(heldContentText(estimate, estimate.t - 100)).toBe("content as it was 10 s ago");
});

test("a content of now has no age", () => {
  const estimate = held();
  expect(heldContentText(estimate, estimate.t + 3600)).toBeNull();
});
