import type { ConditionWords } from "@leeward/shared-core/alarms/language/say.ts";
import { pageWords } from "./live-words.ts";

/** Why each alarm exists, where the language in use has it; in English the gateway itself says it. */
export const conditionWords = await pageWords<Readonly<Record<string, ConditionWords>>>(
  {},
  {
    de: async () =>
      (await import("@leeward/shared-core/alarms/language/german-conditions.ts")).germanConditions,
    es: async () =>
      (await import("@leeward/shared-core/alarms/language/spanish-conditions.ts"))
        .spanishConditions,
  },
);
