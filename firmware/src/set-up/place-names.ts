/** Files that hold what a person told a node of its place; see `place.ts`. */
export const placeFile = "place";
/** There until the network of a new place has been joined once. */
export const placeNewFile = "place-new";
