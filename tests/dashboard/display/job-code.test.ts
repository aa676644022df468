import { expect, test } from "vitest";
import { readJobCode } from "../../../dashboard/display/job-code.ts";

test.each([
  ["P:WPS-12 J:4711 W:Anna", { procedure: "WPS-12", job: "4711", welder: "Anna" }],
  ["w:Anna Berg;j:4711", { welder: "Anna Berg", job: "4711" }],
  ["J=4711\n", { job: "4711" }],
  ["P: TIG 7 \nW: Jo", { procedure: "TIG 7", welder: "Jo" }],
  ["4711", { job: "4711" }],
  ["R-2026/11", { job: "R-2026/11" }],
])("%j is %j", (text, code) => {
  expect(readJobCode(text)).toEqual(code);
});

test.each(["", "   ", "X:1 Y:2", "https://example.org/#/station/a.b", "P:", "two words"])(
  "%j names nothing",
  (text) => {
    expect(readJobCode(text)).toBeNull();
  },
);
