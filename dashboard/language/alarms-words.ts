import { alarmsPage } from "./english/alarms-page.ts";
import { pageWords } from "./live-words.ts";

/** Words of the Alarms page in the language in use; loaded with its page. */
export const alarmsWords: typeof alarmsPage = await pageWords(alarmsPage, {
  de: async () => (await import("./german/alarms-page.ts")).alarmsPage,
  es: async () => (await import("./spanish/alarms-page.ts")).alarmsPage,
});
