import { rack } from "./english/rack.ts";
import { pageWords } from "./live-words.ts";

/** Words of the Rack page in the language in use; loaded with its page. */
export const rackWords: typeof rack = await pageWords(rack, {
  de: async () => (await import("./german/rack.ts")).rack,
  es: async () => (await import("./spanish/rack.ts")).rack,
});
