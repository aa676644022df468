import { hard } from "./hard.ts";
import { ordinary } from "./ordinary.ts";
import type { Scenario } from "./scenario.ts";
import { telling } from "./telling.ts";

export { collectScenario, playScenario, type Scenario, scenarioCase } from "./scenario.ts";

/** All scenarios by name. */
export const scenarios: readonly Scenario[] = [...ordinary, ...telling, ...hard];
