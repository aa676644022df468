import type { ClaimEntry, LookBack } from "@leeward/shared-core/api/look-back.ts";
import type { JobSpan } from "@leeward/shared-core/record/jobs.ts";
import { request } from "../api/client.ts";

export const getLookBack = (id: string, from: number, to: number) =>
  request<LookBack>(`stations/${id}/look-back?from=${Math.floor(from)}&to=${Math.ceil(to)}`);

export const getJobs = (id: string) => request<{ jobs: JobSpan[] }>(`stations/${id}/jobs`);

/** Gives gas without a job to a job or a welder, or takes that back. */
export const sendClaim = (id: string, claim: ClaimEntry) =>
  request<{ jobs: JobSpan[] }>(`stations/${id}/claims`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(claim),
  });
