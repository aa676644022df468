/** Reasons of the core in German, by their English text. */
export const germanReasons: Readonly<Record<string, string>> = {};
