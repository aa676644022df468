import type { LookBack } from "@leeward/shared-core/api/look-back.ts";
import type { JobSpan } from "@leeward/shared-core/record/jobs.ts";
import { request } from "../api/client.ts";

export const getLookBack = (id: string, from: number, to: number) =>
  request<LookBack>(`stations/${id}/look-back?from=${Math.floor(from)}&to=${Math.ceil(to)}`);

export const getJobs = (id: string) => request<{ jobs: JobSpan[] }>(`stations/${id}/jobs`);
