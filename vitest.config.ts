import { defineConfig } from "vitest/config";
import { BaseSequencer, type TestSpecification } from "vitest/node";

const inBrowser = "tests/dashboard/browser/**/*.test.ts";

/** Files in a browser take longest and come first; the others then follow each other in the same workers. */
class BrowserFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    const isFirst = ({ project }: TestSpecification) => project.name === "browser";
    return [...sorted.filter(isFirst), ...sorted.filter((one) => !isFirst(one))];
  }
}

export default defineConfig({
  test: {
    testTimeout: 90_000,
    hookTimeout: 60_000,
    setupFiles: "tests/each-file.ts",
    // What is awaited in a browser comes when a busy machine gets to it; one second is no sign of a fault.
    expect: { poll: { timeout: 30_000 } },
    // Browser tests wait more than they work: three workers fill two cores.
    maxWorkers: 3,
    // A worker takes one file after the other and loads what they share once: modules remember nothing
    // that another file could see.
    isolate: false,
    sequence: { sequencer: BrowserFirst },
    tags: [
      {
        name: "looks",
        description:
          "each screen in some of its sizes and colours; in all of them with `npm run looks`",
      },
    ],
    projects: [
      {
        extends: true,
        test: {
          name: "browser",
          include: [inBrowser],
          globalSetup: "tests/dashboard/browser/lender.ts",
        },
      },
      {
        extends: true,
        test: {
          name: "parts",
          include: ["tests/**/*.test.ts"],
          exclude: [inBrowser],
        },
      },
    ],
  },
});
