import type { Language } from "@leeward/shared-core/alarms/language/languages.ts";
import type { Problem } from "@leeward/shared-core/api/stations.ts";
import type {
  BenchTestDocument,
  BenchTestView,
} from "@leeward/shared-core/bench/bench-test-document.ts";
import { type Answer, request } from "../api/client.ts";

const json = { "content-type": "application/json" };

export const getTests = () => request<{ tests: BenchTestView[] }>("bench/tests");

/** @param version the one seen; 0 for a new test */
export const putTest = (id: string, test: BenchTestDocument, version: number) =>
  request<BenchTestView>(`bench/tests/${id}`, {
    method: "PUT",
    headers: version === 0 ? json : { ...json, "if-match": `"${version}"` },
    body: JSON.stringify(test),
  });

/** The card as a file; a refusal is given as the API gives it. */
export async function fetchCard(
  test: BenchTestDocument,
  stationUrl: string,
  told: { language: Language; decimal: string },
): Promise<Answer<Blob>> {
  try {
    const response = await fetch("api/v1/bench/card", {
      method: "POST",
      headers: json,
      body: JSON.stringify({ test, stationUrl, ...told }),
      signal: AbortSignal.timeout(60_000),
    });
    if (response.ok) return { ok: true, value: await response.blob() };
    const problem = (await response.json().catch(() => null)) as Problem | null;
    return { ok: false, offline: false, status: response.status, problem };
  } catch {
    return { ok: false, offline: true, status: 0, problem: null };
  }
}

/** Hands a file to the browser's downloads. */
export function saveFile(blob: Blob, name: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
