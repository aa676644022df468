/**
 * What enrolment codes are made of, shared by node firmware and gateway. This file imports nothing
 * and uses only constants, so that it compiles to the node's Lua as well.
 */

/** Symbols of a node's secret: digits and letters without I, L, O, U, which eyes and keys confuse. */
export const secretAlphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/** Symbols of a secret: 22 by chance (110 bits), then two that catch slips of the pen. */
export const secretSymbols = 24;

/** Modulus of the two check symbols: the largest prime below 32 · 32. */
export const secretCheckModulus = 1021;

/** Message whose HMAC-SHA-256 under the node's secret is the key that signs its updates. */
export const updateKeyLabel = "leeward update";
