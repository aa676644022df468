import { english, type Words } from "./english.ts";

/** The words in use. A further language is one file of the same shape and one choice here. */
export const words: Words = english;
