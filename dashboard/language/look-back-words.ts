import { lookBack } from "./english/look-back.ts";

/** Words of the Look-back page in the language in use; loaded with its page. */
export const lookBackWords: typeof lookBack = lookBack;
