/**
 * The Keystroke-Level Model: what a practised person's hands, eyes and head need for a task that is
 * known step by step. Operator times of Card, Moran and Newell, "The keystroke-level model for user
 * performance time with interactive systems", Communications of the ACM 23(7), 1980, 396-410, taken
 * from memory: K 0.28 s for an average non-secretary typist, P 1.1 s, H 0.4 s, M 1.35 s; the click
 * that ends a pointing counts as a K. On a touch screen a tap is a pointing without a hand that
 * moves to a mouse; both times of the phone are assumptions of ours: P taken over, and
 * K 0.5 s a character on a screen keyboard with one thumb (about 24 words a minute, from memory).
 * The response of the system is left out: every step is on the device already.
 */
export interface Operators {
  keyS: number;
  pointS: number;
  homeS: number;
  mentalS: number;
}

export const desk: Operators = { keyS: 0.28, pointS: 1.1 + 0.28, homeS: 0.4, mentalS: 1.35 };
export const phone: Operators = { keyS: 0.5, pointS: 1.1 + 0.2, homeS: 0, mentalS: 1.35 };

/** One look at a plate, a label or a data sheet that must be found before it is typed, s: our assumption. */
export const LOOK_UP_S = 5;
/** Words a second of an adult reading silently: 238 a minute, Brysbaert 2019, from memory. */
export const WORDS_A_SECOND = 238 / 60;

/** What somebody does with the form, counted as it is driven. */
export interface Deeds {
  taps: number;
  characters: number;
  /** From keyboard to mouse and back. */
  homings: number;
  /** Before each thing that is decided or recalled: one a field, one a step. */
  thoughts: number;
  /** Figures that are read off the real parts. */
  lookUps: number;
  /** Words on the screens, those that come by a choice made there included. */
  words: number;
  /** The same, screen by screen. */
  wordsOf: number[];
  screens: number;
}

export const none = (): Deeds => ({
  taps: 0,
  characters: 0,
  homings: 0,
  thoughts: 0,
  lookUps: 0,
  words: 0,
  wordsOf: [],
  screens: 0,
});

/**
 * Seconds at the form alone, with the looks at the parts, and with every word read besides. The model
 * is of somebody practised who makes no slip; whoever sees the form for the first time lies between
 * the last two, since nobody reads every word.
 */
export function timesOf(
  deeds: Deeds,
  by: Operators,
): { handsS: number; practisedS: number; readingS: number } {
  const handsS =
    deeds.taps * by.pointS +
    deeds.characters * by.keyS +
    deeds.homings * by.homeS +
    deeds.thoughts * by.mentalS;
  const practisedS = handsS + deeds.lookUps * LOOK_UP_S;
  return { handsS, practisedS, readingS: practisedS + deeds.words / WORDS_A_SECOND };
}
