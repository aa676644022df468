const cleanUps: (() => unknown)[] = [];

/** Runs when the present test is over, last registered first. */
export function whenOver(step: () => unknown): void {
  cleanUps.push(step);
}

/** For the end of each test. */
export async function cleanUp(): Promise<void> {
  for (const step of cleanUps.splice(0).reverse()) await step();
}
