import { english, type Words } from "./english/index.ts";

/** The words in use. A further language is one folder of the same shape and one choice here. */
export const words: Words = english;
