import type { ProcedureDocument } from "@leeward/shared-core/documents/procedure.ts";
import { figure } from "./figure.ts";

export type Figures = "cup" | "nozzleBoreMm" | "amps" | "thicknessMm" | "standoffMm" | "draughtMs";

/** A procedure as it is tried out; figures stay as typed until they are numbers. */
export interface TriedProcedure {
  process: ProcedureDocument["process"];
  transfer: string;
  material: string;
  joint: string;
  gasLens: boolean;
  figures: Record<Figures, string>;
}

/** The station's own procedure, as the fields show it at first. */
export function triedFrom(procedure: ProcedureDocument | undefined): TriedProcedure {
  const typed = (value: number | undefined) => (value === undefined ? "" : String(value));
  return {
    process: procedure?.process ?? "GTAW",
    transfer: procedure?.transfer ?? "",
    material: procedure?.material ?? "",
    joint: procedure?.joint ?? "",
    gasLens: procedure?.gasLens ?? false,
    figures: {
      cup: typed(procedure?.cup),
      nozzleBoreMm: typed(procedure?.nozzleBoreMm),
      amps: typed(procedure?.amps),
      thicknessMm: typed(procedure?.thicknessMm),
      standoffMm: typed(procedure?.standoffMm),
      draughtMs: typed(procedure?.draughtMs),
    },
  };
}

/** The procedure tried out over the station's own; what belongs to another process is left out. */
export function procedureOf(
  tried: TriedProcedure,
  own: ProcedureDocument | undefined,
): ProcedureDocument {
  const { process, figures } = tried;
  const tig = process === "GTAW";
  const known = (name: Figures) => {
    const value = figure(figures[name]);
    return value === null || (value === 0 && name !== "draughtMs") ? {} : { [name]: value };
  };
  const {
    cup: _cup,
    nozzleBoreMm: _bore,
    transfer: _transfer,
    gasLens: _lens,
    amps: _amps,
    thicknessMm: _thickness,
    standoffMm: _standoff,
    draughtMs: _draught,
    ...kept
  } = own ?? { process };
  // Limits that were written for one process say nothing of another.
  const { minimumLpm: _least, targetLpm: _target, maximumLpm: _most, ...withoutLimits } = kept;
  const transfer = tried.transfer as NonNullable<ProcedureDocument["transfer"]>;
  return {
    ...(own?.process === process ? kept : withoutLimits),
    process,
    ...(tried.material === "" ? {} : { material: tried.material }),
    ...(tried.joint === "" ? {} : { joint: tried.joint }),
    ...(tig ? { gasLens: tried.gasLens, ...known("cup") } : known("nozzleBoreMm")),
    ...(process === "GMAW" && tried.transfer !== "" ? { transfer } : {}),
    ...known("amps"),
    ...known("thicknessMm"),
    ...known("standoffMm"),
    ...known("draughtMs"),
  };
}
