import type { z } from "zod";

/** One fault of a document: where it is (`cylinder.waterVolumeL`) and what to do about it. */
export interface DocumentFault {
  path: string;
  message: string;
}

export type Parsed<T> = { ok: true; value: T } | { ok: false; faults: DocumentFault[] };

/**
 * Checks a document against its schema and reports every fault at once.
 * Never throws; parts that the schema does not know are kept.
 */
export function parseDocument<T>(schema: z.ZodType<T>, input: unknown): Parsed<T> {
  const result = schema.safeParse(input);
  if (result.success) return { ok: true, value: result.data };
  return {
    ok: false,
    faults: result.error.issues.map((issue) => ({
      path: dotPath(issue.path),
      message: issue.message,
    })),
  };
}

function dotPath(path: ReadonlyArray<PropertyKey>): string {
  let text = "";
  for (const part of path) {
    text +=
      typeof part === "number" ? `[${part}]` : text === "" ? String(part) : `.${String(part)}`;
  }
  return text === "" ? "(document)" : text;
}

/** All faults in one sentence each, for a log line or a problem detail. */
export function describeFaults(faults: readonly DocumentFault[]): string {
  return faults.map((fault) => `${fault.path}: ${fault.message}`).join("; ");
}
