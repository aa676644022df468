/**
 * A book of sentences: the English text of the core with places for values, by key. The core says
 * `draught 0.5 m/s: minimum 12 % higher`; the book knows it as `demand-draught` with two numbers,
 * and so any language can say it. Places are `{n…}` for a number (the reader's decimal sign is put
 * in), `{w…}` for what stays as written (`{wpath}`: without a blank), and any other name for text
 * that is a phrase itself.
 */
export type Phrases = Readonly<Record<string, string>>;

/** A sentence as key and values, before any language. */
export interface SaidPhrase {
  say: string;
  of: Readonly<Record<string, string>>;
}

interface Pattern {
  say: string;
  names: string[];
  test: RegExp;
}

const PLACE = /\{([a-zA-Z]\w*)\}/g;
const NUMBER = "[-+±]?\\d+(?:\\.\\d+)?(?:e[-+]?\\d+)?";

const MEASURED =
  /^([-+±]?\d+(?:\.\d+)?) ?(%|L\/min|CFH|bar|psi|kPa|mm|m|ft|in|kg|lb|s|A|L|ft³|°C|°F)?$/;
const ISO_DATE = /^\d{4}-\d\d-\d\d$/;

const books = new WeakMap<Phrases, { exact: Map<string, string>; patterns: Pattern[] }>();

function bookOf(english: Phrases): { exact: Map<string, string>; patterns: Pattern[] } {
  const known = books.get(english);
  if (known) return known;
  const exact = new Map<string, string>();
  const patterns: (Pattern & { fixed: number })[] = [];
  for (const [say, text] of Object.entries(english)) {
    const names: string[] = [];
    let source = "";
    let end = 0;
    for (const place of text.matchAll(PLACE)) {
      const name = place[1]!;
      source += escaped(text.slice(end, place.index));
      source += name.startsWith("n")
        ? `(${NUMBER})`
        : name === "wpath"
          ? "(\\S+?)"
          : "([\\s\\S]+?)";
      names.push(name);
      end = place.index + place[0].length;
    }
    if (names.length === 0) exact.set(text, say);
    else {
      const test = new RegExp(`^${source}${escaped(text.slice(end))}$`);
      patterns.push({ say, names, test, fixed: text.replace(PLACE, "").length });
    }
  }
  // The pattern that says most by itself comes first.
  const book = { exact, patterns: patterns.sort((a, b) => b.fixed - a.fixed) };
  books.set(english, book);
  return book;
}

function escaped(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
}

/** Every way to read an English sentence of the core, the likeliest first. */
function* readings(text: string, english: Phrases): Generator<SaidPhrase> {
  const { exact, patterns } = bookOf(english);
  const say = exact.get(text);
  if (say !== undefined) {
    yield { say, of: {} };
    return;
  }
  for (const pattern of patterns) {
    const match = pattern.test.exec(text);
    if (!match) continue;
    const of = Object.fromEntries(pattern.names.map((name, k) => [name, match[k + 1]!]));
    yield { say: pattern.say, of };
  }
}

/** The key and the values of an English sentence of the core; null for one that is not in the book. */
export function recognise(text: string, english: Phrases): SaidPhrase | null {
  for (const said of readings(text, english)) return said;
  return null;
}

/** What joins clauses, what of it stays with the first, and what joins them again. */
const joints = [
  ["; ", "", "; "],
  [". ", ".", " "],
  [", ", "", ", "],
] as const;

export interface PhraseLanguage {
  /** What the core says. */
  english: Phrases;
  /** The reader's language; English stands in for a key that it lacks. */
  own: Phrases;
  /** Decimal sign of the reader. */
  decimal: string;
}

/**
 * What the core says in English, in the reader's language. Clauses joined by semicolons and
 * sentences in a row are taken one by one; of several ways to read a text the one that leaves
 * least unknown counts. What the book does not know stays as it is, and `onUnknown` hears of it.
 */
export function phraseIn(
  text: string,
  language: PhraseLanguage,
  onUnknown?: (text: string) => void,
): string {
  const { told, unknown } = tell(text, { ...language, seen: new Map() });
  for (const part of unknown) onUnknown?.(part);
  return told;
}

/** Parts of one text already taken apart: without them a long unknown text would take for ever. */
interface Search extends PhraseLanguage {
  seen: Map<string, Told>;
}

/** Parts looked at before what is left stays English; a true text needs a few dozen. */
const MOST_PARTS = 400;

interface Told {
  told: string;
  /** Parts that stayed English. */
  unknown: string[];
}

function tell(text: string, language: Search): Told {
  const known = language.seen.get(text);
  if (known) return known;
  let best: Told = { told: text, unknown: [text] };
  if (language.seen.size >= MOST_PARTS) return best;
  // Stands for the text while its parts are looked at, so that these count too.
  language.seen.set(text, best);
  let letters = text.length;
  for (const candidate of candidates(text, language)) {
    const left = candidate.unknown.join("").length;
    if (left < letters) {
      best = candidate;
      letters = left;
    }
    if (left === 0) break;
  }
  language.seen.set(text, best);
  return best;
}

function* candidates(text: string, language: Search): Generator<Told> {
  if (MEASURED.test(text)) yield { told: text.replace(".", language.decimal), unknown: [] };
  if (ISO_DATE.test(text)) yield { told: text, unknown: [] };
  for (const said of readings(text, language.english)) yield filled(said, language);
  for (const [between, kept, joint] of joints) {
    const parts = text.split(between);
    if (parts.length < 2) continue;
    const last = parts.length - 1;
    const own = clausesTold(
      parts.map((one, k) => (k < last ? one + kept : one)),
      joint,
      language,
    );
    const unknown = own.flatMap((one) => one.unknown);
    // A part of a list must be known, or the list is no list but a sentence with a comma.
    if (between === ", " && unknown.length > 0) continue;
    yield { told: own.map(({ told }) => told).join(joint), unknown };
  }
}

/** Clauses one by one; two neighbours are one sentence where only together they are known. */
function clausesTold(clauses: string[], joint: string, language: Search): Told[] {
  const own: Told[] = [];
  for (let k = 0; k < clauses.length; k++) {
    let one = tell(clauses[k]!, language);
    if (one.unknown.length > 0 && clauses.length > 2 && k + 1 < clauses.length) {
      const both = tell(clauses[k]! + joint + clauses[k + 1]!, language);
      if (both.unknown.length === 0) {
        one = both;
        k++;
      }
    }
    own.push(one);
  }
  return own;
}

function filled(said: SaidPhrase, language: Search): Told {
  const unknown: string[] = [];
  const own = language.own[said.say] ?? language.english[said.say] ?? "";
  const told = own.replace(PLACE, (place, name: string) => {
    const value = said.of[name];
    if (value === undefined) return place;
    if (name.startsWith("n")) return value.replace(".", language.decimal);
    if (name.startsWith("w")) return value;
    const part = tell(value, language);
    unknown.push(...part.unknown);
    return part.told;
  });
  return { told, unknown };
}
