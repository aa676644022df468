import { defineConfig } from "vitest/config";
import { BaseSequencer, type TestSpecification } from "vitest/node";

const inBrowser = "/tests/dashboard/browser/";

/** So many files that only work come between two in a browser, which wait more than they work. */
const othersBetween = 4;

/**
 * Files in a browser take longest: they begin early, and others keep the processor busy while they wait.
 * The short ones are left for the end, when a worker would have nothing else to do.
 */
class OthersBetweenBrowsers extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    const isBrowser = ({ moduleId }: TestSpecification) => moduleId.includes(inBrowser);
    const others = sorted.filter((one) => !isBrowser(one));
    const mixed = sorted
      .filter(isBrowser)
      .flatMap((one) => [one, ...others.splice(0, othersBetween)]);
    return [...mixed, ...others];
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
    sequence: { sequencer: OthersBetweenBrowsers },
    tags: [
      {
        name: "looks",
        description:
          "each screen in some of its sizes and colours; in all of them with `npm run looks`",
      },
      {
        name: "hours",
        description:
          "hours of simulated shop life, each behaviour once; with all seeds and cases in `npm run hours`",
      },
    ],
    // One project for all files: a worker goes from one to the next only within a project.
    include: ["tests/**/*.test.ts"],
    globalSetup: "tests/dashboard/browser/lender.ts",
  },
});
