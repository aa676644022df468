const cleanUps: (() => unknown)[] = [];

/** Runs when the present test is over, last registered first. */
export function whenOver(step: () => unknown): void {
  cleanUps.push(step);
}

/** For the end of each test: a step that fails leaves the others their turn. */
export async function cleanUp(): Promise<void> {
  const failures: unknown[] = [];
  for (const step of cleanUps.splice(0).reverse()) {
    try {
      await step();
    } catch (error) {
      failures.push(error);
    }
  }
  if (failures.length > 0) throw failures[0];
}
