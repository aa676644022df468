import type { PlaceOfNode } from "@leeward/shared-core/api/enrolment.ts";
import type { IssuedCredentials } from "./enrolment.ts";

/** The file `provision` to put on the node: JSON of flat members, as the node's port reads it. */
export function provisionOf(
  credentials: IssuedCredentials,
  place: PlaceOfNode,
): Record<string, unknown> {
  const { site, node, user, secret } = credentials;
  return { site, node, user, secret, ...place };
}
