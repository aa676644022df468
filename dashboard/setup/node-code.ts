import { nameSchema } from "@leeward/shared-core/documents/common.ts";

/** Which node a scanned or typed code names. */
export interface NodeName {
  site: string;
  node: string;
}

/**
 * Reads what stands on a node: `n-07`, `north/n-07`, `north.n-07`, an enrolment code
 * (`north/n-07/…`, whose secret is left aside), or the address of its page in Setup.
 * Null where it is none of these.
 *
 * @param site the shop's own, for a bare name
 */
export function readNodeCode(text: string, site: string): NodeName | null {
  const plain = text.trim().replace(/^.*#\/setup\/node\//, "");
  const parts = plain.toLowerCase().split(/[/.]/);
  const [first, second] = parts;
  const named = parts.length === 1 ? { site, node: first } : { site: first, node: second };
  if (parts.length > 3) return null;
  if (!nameSchema.safeParse(named.site).success || !nameSchema.safeParse(named.node).success) {
    return null;
  }
  return named as NodeName;
}
