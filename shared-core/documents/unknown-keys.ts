import type { z } from "zod";

/** A key that no part of a schema reads: kept, and used for nothing. */
export interface UnknownKey {
  /** Where it stands, such as `flowDevice.raedAt`. */
  path: string;
  message: string;
}

interface Def {
  type: string;
  shape?: Record<string, z.core.$ZodType>;
  innerType?: z.core.$ZodType;
  element?: z.core.$ZodType;
  options?: readonly z.core.$ZodType[];
  in?: z.core.$ZodType;
  out?: z.core.$ZodType;
}

const defOf = (schema: z.core.$ZodType): Def => schema._zod.def as unknown as Def;

/**
 * Keys of a document that its schema does not know, with the nearest that it does. Documents may
 * carry parts that are not known yet, so these are no faults; but a misspelt key is never used,
 * and nobody would notice.
 *
 * @param also keys of the document itself that are read outside the schema
 */
export function unknownKeys(
  schema: z.ZodType,
  document: unknown,
  also: readonly string[] = [],
): UnknownKey[] {
  const found: UnknownKey[] = [];
  walk(schema, document, "", also, found);
  return found;
}

/** All of them in one sentence each. */
export function describeUnknownKeys(keys: readonly UnknownKey[]): string {
  return keys.map(({ path, message }) => `${path}: ${message}`).join("; ");
}

function walk(
  schema: z.core.$ZodType,
  value: unknown,
  path: string,
  also: readonly string[],
  found: UnknownKey[],
): void {
  if (typeof value !== "object" || value === null) return;
  const def = defOf(schema);
  if (def.innerType) {
    walk(def.innerType, value, path, also, found);
  } else if (def.type === "pipe" && def.in && def.out) {
    walk(defOf(def.in).type === "transform" ? def.out : def.in, value, path, also, found);
  } else if (def.element && Array.isArray(value)) {
    value.forEach((one, k) => {
      walk(def.element!, one, `${path}[${k}]`, [], found);
    });
  } else if (def.options) {
    const option = bestOption(def.options, value);
    if (option) walk(option, value, path, also, found);
  } else if (def.shape && !Array.isArray(value)) {
    const known = [...Object.keys(def.shape), ...also];
    for (const [key, part] of Object.entries(value)) {
      const place = path === "" ? key : `${path}.${key}`;
      const inner = def.shape[key];
      if (inner) walk(inner, part, place, [], found);
      else if (!also.includes(key)) found.push({ path: place, message: meaning(key, known) });
    }
  }
}

/** The option of a union that knows most of the value's keys, and that says the same of its kind. */
function bestOption(
  options: readonly z.core.$ZodType[],
  value: object,
): z.core.$ZodType | undefined {
  let best: z.core.$ZodType | undefined;
  let most = -1;
  for (const option of options) {
    const { shape } = defOf(option);
    if (!shape) continue;
    const keys = Object.entries(value);
    const fits = keys.filter(([key, part]) => {
      const inner = shape[key] as z.ZodType | undefined;
      return inner?.safeParse(part).success === true;
    }).length;
    if (fits > most) {
      most = fits;
      best = option;
    }
  }
  return best;
}

function meaning(key: string, known: readonly string[]): string {
  const near = nearestKey(key, known);
  return `is not known, so it is kept but not used${near === null ? "" : `: did you mean ${near}?`}`;
}

/** The known key that a misspelt one comes nearest to; null where none is near. */
export function nearestKey(key: string, known: readonly string[]): string | null {
  const plain = (text: string): string => text.toLowerCase().replaceAll(/[^a-z0-9]/g, "");
  let best: string | null = null;
  let least = Math.max(1, Math.floor(key.length / 3)) + 1;
  for (const one of known) {
    const distance = editDistance(plain(key), plain(one));
    if (distance < least) {
      least = distance;
      best = one;
    }
  }
  return best;
}

/** Letters to add, drop, change or swap with a neighbour. */
function editDistance(a: string, b: string): number {
  let before: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      let least = Math.min(change, row[j]! + 1, next[j - 1]! + 1);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        least = Math.min(least, before[j - 2]! + 1);
      }
      next.push(least);
    }
    before = row;
    row = next;
  }
  return row[b.length]!;
}
