import type { ProcedureDocument } from "@leeward/shared-core/documents/procedure.ts";
import { procedureLine } from "../display/weld-line.ts";

const KEY = "leeward.recent-procedures.1";
const KEPT = 4;

type Kept = Record<string, ProcedureDocument[]>;

function read(): Kept {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(KEY) ?? "{}");
    return typeof kept === "object" && kept !== null ? (kept as Kept) : {};
  } catch {
    return {};
  }
}

/** The last four procedures at this station on this device, newest first. */
export function recentProcedures(id: string): ProcedureDocument[] {
  const list = read()[id];
  return Array.isArray(list) ? list.slice(0, KEPT) : [];
}

/** The procedure with this number (WPS), of any station on this device; null where none is known. */
export function procedureByCode(code: string): ProcedureDocument | null {
  const wanted = code.toLowerCase();
  const all = Object.values(read()).flatMap((list) => (Array.isArray(list) ? list : []));
  return all.find((procedure) => procedure.wps?.toLowerCase() === wanted) ?? null;
}

export function rememberProcedure(id: string, procedure: ProcedureDocument): void {
  const kept = read();
  const others = recentProcedures(id).filter((p) => procedureLine(p) !== procedureLine(procedure));
  kept[id] = [procedure, ...others].slice(0, KEPT);
  try {
    localStorage.setItem(KEY, JSON.stringify(kept));
  } catch {
    // Without storage the list is empty next time; the job itself is with the gateway.
  }
}
