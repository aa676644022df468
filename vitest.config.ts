import { defineConfig } from "vitest/config";

const inBrowser = "tests/dashboard/browser/**/*.test.ts";
// No clock, no I/O and nothing remembered between calls: a worker takes one file after the other.
const pure = "tests/shared-core/**/*.test.ts";

export default defineConfig({
  test: {
    testTimeout: 90_000,
    hookTimeout: 60_000,
    // What is awaited in a browser comes when a busy machine gets to it; one second is no sign of a fault.
    expect: { poll: { timeout: 30_000 } },
    // Browser tests wait more than they work: a third worker fills two cores.
    maxWorkers: 3,
    projects: [
      {
        extends: true,
        test: {
          name: "browser",
          include: [inBrowser],
          globalSetup: "tests/dashboard/browser/lender.ts",
        },
      },
      { extends: true, test: { name: "pure", include: [pure], isolate: false } },
      {
        extends: true,
        test: { name: "parts", include: ["tests/**/*.test.ts"], exclude: [inBrowser, pure] },
      },
    ],
  },
});
