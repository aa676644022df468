import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    testTimeout: 90_000,
    hookTimeout: 60_000,
    // What is awaited in a browser comes when a busy machine gets to it; one second is no sign of a fault.
    expect: { poll: { timeout: 30_000 } },
    // Browser tests wait more than they work: a third worker fills two cores.
    maxWorkers: 3,
  },
});
