import { nameSchema } from "../documents/common.ts";
import { secretAlphabet, secretCheckModulus, secretSymbols } from "./enrolment-names.ts";

/** Who a node is and with what it proves it: what a person carries to the node. */
export interface EnrolmentCode {
  site: string;
  node: string;
  /** 24 symbols of `secretAlphabet`, the last two made from the others. */
  secret: string;
}

/**
 * A secret from 22 symbol numbers (0 … 31 each, from a source of chance fit for secrets).
 * Throws `RangeError` for any other list.
 */
export function secretFrom(symbols: readonly number[]): string {
  const fit = symbols.every((one) => Number.isInteger(one) && one >= 0 && one < 32);
  if (symbols.length !== secretSymbols - 2 || !fit) {
    throw new RangeError(`a secret is made from ${secretSymbols - 2} numbers from 0 to 31`);
  }
  const text = symbols.map((one) => secretAlphabet.charAt(one)).join("");
  return text + checkSymbols(text);
}

/**
 * A secret as it is stored and sent, from what a person typed: any case, blanks and hyphens, O for
 * 0, I and L for 1. Null where it has the wrong length or its check symbols do not fit.
 */
export function readSecret(typed: string): string | null {
  const secret = typed
    .toUpperCase()
    .replaceAll(/[\s-]/g, "")
    .replaceAll("O", "0")
    .replaceAll(/[IL]/g, "1");
  if (secret.length !== secretSymbols) return null;
  if ([...secret].some((symbol) => !secretAlphabet.includes(symbol))) return null;
  return checkSymbols(secret.slice(0, -2)) === secret.slice(-2) ? secret : null;
}

/** `north/n-07/K7QF-9M2X-…`: to be read, typed, copied or scanned. */
export function writeEnrolmentCode({ site, node, secret }: EnrolmentCode): string {
  return `${site}/${node}/${(secret.match(/.{4}/g) ?? []).join("-")}`;
}

/** Reads a code as a person typed it; null where it is none. */
export function readEnrolmentCode(typed: string): EnrolmentCode | null {
  const [site, node, rest, ...more] = typed.trim().split("/");
  const secret = readSecret(rest ?? "");
  const named = nameSchema.safeParse(site?.trim()).success && nameSchema.safeParse(node).success;
  if (secret === null || !named || more.length > 0) return null;
  return { site: site!.trim(), node: node!, secret };
}

/** Catches every wrong symbol and every exchange of two neighbours: the factor is no power of two. */
function checkSymbols(text: string): string {
  let sum = 7;
  for (const symbol of text) sum = (sum * 37 + secretAlphabet.indexOf(symbol)) % secretCheckModulus;
  return secretAlphabet.charAt(Math.floor(sum / 32)) + secretAlphabet.charAt(sum % 32);
}
