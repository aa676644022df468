import { batch, type Signal, signal } from "@preact/signals";
import { type Language, languages } from "./languages.ts";

type Loaders<W> = Record<Exclude<Language, "en">, () => Promise<W>>;

/** Language in use; whoever reads words while drawing is drawn again when it changes. */
export const language = signal<Language>("en");
/** BCP 47 locale of numbers and dates. */
export const locale = signal<string>(languages.en.locale);

/** Fetches one set of words in a language and answers how to put it in use. */
type Prepare = (language: Language) => Promise<() => void>;

const sets: Prepare[] = [];

/**
 * Words that follow the language in use. English is at hand at once, since it is what stands in
 * where another language cannot be fetched; the others come when they are wanted.
 */
function follow<W extends object>(english: W, loaders: Loaders<W>): { words: W; now: Signal<W> } {
  const now = signal<W>(english);
  sets.push(async (wanted) => {
    const fetched = wanted === "en" ? english : await loaders[wanted]();
    return () => {
      now.value = fetched;
    };
  });
  const words = new Proxy(english, { get: (_target, key) => Reflect.get(now.value, key) });
  return { words, now };
}

/** Words of the first view: English until `useWords` is done. */
export function firstWords<W extends object>(english: W, loaders: Loaders<W>): W {
  return follow(english, loaders).words;
}

/** Words of a page that comes as a chunk of its own, fetched in the language already in use. */
export async function pageWords<W extends object>(english: W, loaders: Loaders<W>): Promise<W> {
  const { words, now } = follow(english, loaders);
  const inUse = language.peek();
  if (inUse !== "en") now.value = await loaders[inUse]().catch(() => english);
  return words;
}

/** Puts a language in use, all its words at once. Rejects, changing nothing, where they do not come. */
export async function useWords(wanted: Language, wantedLocale: string): Promise<void> {
  const puts = await Promise.all(sets.map((prepare) => prepare(wanted)));
  batch(() => {
    for (const put of puts) put();
    language.value = wanted;
    locale.value = wantedLocale;
  });
}
