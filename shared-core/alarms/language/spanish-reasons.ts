/** Reasons of the core in Spanish, by their English text. */
export const spanishReasons: Readonly<Record<string, string>> = {};
