import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    testTimeout: 90_000,
    hookTimeout: 60_000,
    // Browser tests wait more than they work: a third worker fills two cores.
    maxWorkers: 3,
  },
});
