import { alarmsPage } from "./english/alarms-page.ts";

/** Words of the Alarms page in the language in use; loaded with its page. */
export const alarmsWords: typeof alarmsPage = alarmsPage;
