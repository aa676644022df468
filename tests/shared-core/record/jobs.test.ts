import { expect, test } from "vitest";
import { jobSpans } from "../../../shared-core/record/jobs.ts";

test("a job lasts until it ends or the next one begins", () => {
  const spans = jobSpans([
    { t: 100, job: { job: "keel 7", welder: "Ada", procedure: { process: "GTAW", wps: "W-12" } } },
    { t: 200, job: { job: "keel 8" } },
    { t: 300, job: { end: true } },
    { t: 350, job: { end: true } },
    { t: 400, job: { gasless: true } },
  ]);
  expect(spans).toEqual([
    { from: 100, to: 200, job: "keel 7", welder: "Ada", wps: "W-12", gasless: false },
    { from: 200, to: 300, job: "keel 8", welder: null, wps: null, gasless: false },
    { from: 400, to: null, job: null, welder: null, wps: null, gasless: true },
  ]);
});
