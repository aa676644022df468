import { z } from "zod";
import type { EnglishSentences } from "./english.ts";

/** A value of a sentence: SI numbers, words that a table knows, or null where it is not known. */
const valueSchema = z.union([z.number(), z.string(), z.boolean(), z.null()]);

/** A sentence as key and values, before any language: `{ "say": "cylinder-empty", "of": { "pa": 4.2e5 } }`. */
export const saidSchema = z.object({
  say: z.string(),
  of: z.record(z.string(), valueSchema).optional(),
});
export type Said = z.infer<typeof saidSchema>;

/** What an alarm says: clauses of its title, and the sentences of its advice, the first step first. */
export const saidAlarmSchema = z.object({
  title: z.array(saidSchema),
  advice: z.array(saidSchema),
});
export type SaidAlarm = z.infer<typeof saidAlarmSchema>;

export type SentenceKey = keyof EnglishSentences;
type Values<K extends SentenceKey> = Parameters<EnglishSentences[K]>[0];

/** A sentence to be said, its values held to what its English text takes. */
export function says<K extends SentenceKey>(
  say: K,
  ...of: Record<string, never> extends Values<K> ? [] : [Values<K>]
): Said {
  const values = of[0] as Said["of"];
  return values === undefined ? { say } : { say, of: values };
}
