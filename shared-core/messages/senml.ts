import { z } from "zod";
import { type MessageResult, refuse } from "./dead-letter-reasons.ts";
import { relativeTimeLimitS } from "./wire-names.ts";

/**
 * SenML JSON packs after RFC 8428: base fields resolved, each record standing for itself.
 * Times stay as sent: absolute Unix seconds, or relative to now where below 2^28 (section 4.5.3).
 */

const finite = z.number();

/** One raw record. Unknown fields are ignored, those that end in `_` are refused (section 4.4). */
const rawRecordSchema = z.looseObject({
  bn: z.string().optional(),
  bt: finite.optional(),
  bu: z.string().optional(),
  bv: finite.optional(),
  bs: finite.optional(),
  bver: finite.optional(),
  n: z.string().optional(),
  u: z.string().optional(),
  v: finite.optional(),
  vs: z.string().optional(),
  vb: z.boolean().optional(),
  vd: z.string().optional(),
  s: finite.optional(),
  t: finite.optional(),
  ut: finite.optional(),
});

/** Highest version this reader understands; RFC 8428 defines 10. */
export const senmlVersion = 10;

/** A resolved record: full name, unit, time as sent and one value. */
export interface SenmlRecord {
  name: string;
  unit: string | null;
  /** Seconds: absolute Unix time, or relative to now where below 2^28. */
  time: number;
  value: number | string | boolean;
}

/** True where a resolved SenML time counts from now. */
export function isRelativeTime(time: number): boolean {
  return time < relativeTimeLimitS;
}

const namePattern = /^[A-Za-z0-9][A-Za-z0-9\-:./_]*$/;

/**
 * Resolves a parsed JSON value to records.
 * Errors: `not-senml`, `senml-version`, `empty-pack`, `wrong-type`; the first one found is returned.
 */
export function resolveSenml(input: unknown): MessageResult<SenmlRecord[]> {
  if (!Array.isArray(input)) {
    return refuse("not-senml", "", `is ${describe(input)}, not an array`);
  }
  if (input.length === 0) return refuse("empty-pack", "", "the pack has no records");

  const records: SenmlRecord[] = [];
  let version: number | null = null;
  const base = { name: "", time: 0, unit: null as string | null, value: null as number | null };

  for (const [index, item] of input.entries()) {
    const parsed = rawRecordSchema.safeParse(item);
    if (!parsed.success) {
      const issue = parsed.error.issues[0];
      const path = [`[${index}]`, ...(issue?.path ?? []).map((part) => `.${String(part)}`)];
      const reason = (issue?.path.length ?? 0) > 0 ? "wrong-type" : "not-senml";
      return refuse(reason, path.join(""), issue?.message ?? "is not a record");
    }
    const raw = parsed.data;
    const mustUnderstand = Object.keys(raw).find((key) => key.endsWith("_"));
    if (mustUnderstand !== undefined) {
      return refuse(
        "not-senml",
        `[${index}].${mustUnderstand}`,
        "is a field that must be understood and is not known here",
      );
    }
    if (raw.bver !== undefined) {
      if (raw.bver > senmlVersion || !Number.isInteger(raw.bver) || raw.bver < 1) {
        return refuse("senml-version", `[${index}].bver`, `is ${raw.bver}`);
      }
      if (version !== null && version !== raw.bver) {
        return refuse("senml-version", `[${index}].bver`, "differs from an earlier record's");
      }
      version = raw.bver;
    }
    base.name = raw.bn ?? base.name;
    base.time = raw.bt ?? base.time;
    base.unit = raw.bu ?? base.unit;
    base.value = raw.bv ?? base.value;

    const resolved = resolveRecord(raw, base, index);
    if (!resolved.ok) return resolved;
    if (resolved.value !== null) records.push(resolved.value);
  }
  if (records.length === 0) return refuse("empty-pack", "", "no record has a value");
  return { ok: true, value: records };
}

interface BaseFields {
  name: string;
  time: number;
  unit: string | null;
  value: number | null;
}

function resolveRecord(
  raw: z.infer<typeof rawRecordSchema>,
  base: BaseFields,
  index: number,
): MessageResult<SenmlRecord | null> {
  const given = (["v", "vs", "vb", "vd"] as const).filter((key) => raw[key] !== undefined);
  if (given.length > 1) {
    return refuse("not-senml", `[${index}]`, `has ${given.join(" and ")}: one value a record`);
  }
  if (given[0] === "vd") {
    return refuse("wrong-type", `[${index}].vd`, "data values have no meaning here");
  }
  // A record that only sets base fields carries no measurement (section 4.1).
  if (given.length === 0 && raw.n === undefined) return { ok: true, value: null };
  const name = base.name + (raw.n ?? "");
  if (!namePattern.test(name)) {
    return refuse(
      "not-senml",
      `[${index}].n`,
      `the name "${name.slice(0, 80)}" must begin with a letter or digit and hold only letters, digits and - : . / _`,
    );
  }
  let value: number | string | boolean;
  if (raw.vs !== undefined) value = raw.vs;
  else if (raw.vb !== undefined) value = raw.vb;
  else if (raw.v !== undefined) value = raw.v + (base.value ?? 0);
  else if (base.value !== null) value = base.value;
  else return refuse("not-senml", `[${index}]`, "has no value (v, vs or vb)");

  const time = base.time + (raw.t ?? 0);
  if (!Number.isFinite(time) || (typeof value === "number" && !Number.isFinite(value))) {
    return refuse("impossible-value", `[${index}]`, "adds up to a number that is not finite");
  }
  return { ok: true, value: { name, unit: raw.u ?? base.unit, time, value } };
}

function describe(input: unknown): string {
  if (input === null) return "null";
  return typeof input === "object" ? "an object" : `a ${typeof input}`;
}

/** Parses JSON text of a message; the error names the parser's complaint. */
export function parseJson(text: string): MessageResult<unknown> {
  try {
    return { ok: true, value: JSON.parse(text) as unknown };
  } catch (error) {
    return refuse("not-json", "", error instanceof Error ? error.message : String(error));
  }
}
