import { setup } from "./english/setup.ts";

/** Words of Setup in the language in use; loaded with its page. */
export const setupWords: typeof setup = setup;
