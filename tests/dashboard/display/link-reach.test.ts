import { expect, test } from "vitest";
import { linkReach } from "../../../dashboard/display/link-reach.ts";

test.each([
  [null, "none"],
  ["not an address", "none"],
  ["https://gas.yard.example", "outside"],
  ["http://gas.yard.example", "plain"],
  ["https://192.168.1.9", "local"],
  ["https://172.20.0.4:8443", "local"],
  ["https://172.40.0.4", "outside"],
  ["http://localhost:8080", "local"],
  ["https://leeward.local", "local"],
  ["https://shop-pc", "local"],
  ["https://[fd12::1]", "local"],
])("a link to %s: %s", (address, reach) => {
  expect(linkReach(address)).toBe(reach);
});
