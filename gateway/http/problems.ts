import type { Problem } from "@leeward/shared-core/api/stations.ts";
import type { DocumentFault } from "@leeward/shared-core/documents/parse.ts";

/** Kinds of problem that the API answers with (RFC 9457); docs/errors.md is held to this list. */
export const problemKinds = {
  "invalid-request": { status: 400, title: "The request cannot be read" },
  "owner-key-required": { status: 401, title: "Only the owner may do this" },
  "forbidden-origin": { status: 403, title: "The request comes from elsewhere" },
  "not-found": { status: 404, title: "There is no such thing here" },
  "method-not-allowed": { status: 405, title: "This path does not take that method" },
  "nothing-to-do": { status: 409, title: "There is nothing to do here" },
  "version-conflict": { status: 412, title: "Somebody else has changed it meanwhile" },
  "payload-too-large": { status: 413, title: "The request is too large" },
  "unsupported-media-type": { status: 415, title: "The request is not JSON" },
  "invalid-document": { status: 422, title: "The document has faults" },
  "dangerous-setup": { status: 422, title: "What it describes would be dangerous" },
  "idempotency-key-reused": { status: 422, title: "This Idempotency-Key was used otherwise" },
  "idempotency-key-required": { status: 428, title: "An Idempotency-Key is needed" },
  "precondition-required": { status: 428, title: "If-Match is needed" },
  "internal-error": { status: 500, title: "The gateway has failed at this" },
  "not-ready": { status: 503, title: "The gateway is not ready yet" },
} as const satisfies Record<string, { status: number; title: string }>;

export type ProblemKind = keyof typeof problemKinds;

/** Thrown by handlers; becomes an `application/problem+json` answer. */
export class ProblemError extends Error {
  readonly kind: ProblemKind;
  readonly faults: DocumentFault[] | undefined;

  constructor(kind: ProblemKind, detail: string, faults?: DocumentFault[]) {
    super(detail);
    this.name = "ProblemError";
    this.kind = kind;
    this.faults = faults;
  }

  get status(): number {
    return problemKinds[this.kind].status;
  }
}

export function problemBody(kind: ProblemKind, detail: string, faults?: DocumentFault[]): Problem {
  const { status, title } = problemKinds[kind];
  return { type: `/problems/${kind}`, title, status, detail, ...(faults ? { faults } : {}) };
}
