/** Reading the code that the enrolment shows: `north/n-07/K7QF-9M2X-…`. */
import {
  secretAlphabet,
  secretCheckModulus,
  secretSymbols,
} from "../../../shared-core/messages/enrolment-names.ts";

function symbolNumber(symbol: string): number {
  const [at] = string.find(secretAlphabet, symbol, 1, true);
  return at === undefined ? -1 : at - 1;
}

function isSound(secret: string): boolean {
  let sum = 7;
  for (let index = 1; index <= secretSymbols; index++) {
    const value = symbolNumber(string.sub(secret, index, index));
    if (value < 0) return false;
    const check = sum % 32;
    if (index === secretSymbols - 1 && value !== Math.floor(sum / 32)) return false;
    if (index === secretSymbols && value !== check) return false;
    if (index < secretSymbols - 1) sum = (sum * 37 + value) % secretCheckModulus;
  }
  return true;
}

/** A site's or a node's name, as in its topics. */
function isName(text: string): boolean {
  const [all] = string.match(text, "^[a-z0-9][a-z0-9-]*$");
  const [bad] = string.find(text, "%-%-");
  return (
    all !== undefined && bad === undefined && string.sub(text, -1) !== "-" && text.length <= 64
  );
}

function upper(letter: string): string {
  return string.char((string.byte(letter) ?? 0) - 32);
}

/**
 * Site, node and secret of a code, in any case and spacing, O for 0, I and L for 1; empty texts and
 * the reason where it is none.
 */
export function readCode(typed: string): LuaMultiReturn<[string, string, string, string]> {
  const [site, node, rest] = string.match(typed, "^%s*([^/%s]+)/([^/%s]+)/(.*)$");
  if (site === undefined || node === undefined || rest === undefined) {
    return $multi("", "", "", "must look like yard/n-07/XXXX-XXXX-XXXX-XXXX-XXXX-XXXX");
  }
  if (!isName(site) || !isName(node)) {
    return $multi("", "", "", "must begin with the site's and the node's name, as enrolled");
  }
  const [bare] = string.gsub(rest, "[%s%-]", "");
  const [large] = string.gsub(bare, "%l", upper);
  const [zeros] = string.gsub(large, "O", "0");
  const [secret] = string.gsub(zeros, "[IL]", "1");
  if (secret.length !== secretSymbols) {
    return $multi("", "", "", string.format("has %d symbols instead of 24", secret.length));
  }
  if (!isSound(secret))
    return $multi("", "", "", "has a mistake in it: compare it symbol by symbol");
  return $multi(site, node, secret, "");
}
