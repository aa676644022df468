import type { CylinderRecord, Rack } from "@leeward/shared-core/api/rack.ts";
import { request } from "../api/client.ts";

const send = (method: string, body: unknown): RequestInit => ({
  method,
  headers: { "content-type": "application/json" },
  body: JSON.stringify(body),
});

export const getRack = (site: string) => request<Rack>(`sites/${site}/rack`);

export const fitCylinder = (site: string, id: string, station: string, by: string) =>
  request<Rack>(`sites/${site}/rack/cylinders/${id}/fit`, send("POST", { station, by }));

export const undoSwap = (station: string, by: string) =>
  request<Rack>(`stations/${station}/undo-swap`, send("POST", { by }));

export const giveBack = (site: string, id: string, by: string) =>
  request<Rack>(`sites/${site}/rack/cylinders/${id}/give-back`, send("POST", { by }));

export const addCylinder = (site: string, id: string, record: CylinderRecord) =>
  request<Rack>(`sites/${site}/rack/cylinders/${id}`, send("PUT", record));

export const saveRackSettings = (site: string, leadDays: number, coverDays: number) =>
  request<Rack>(`sites/${site}/rack/settings`, send("PUT", { leadDays, coverDays }));
