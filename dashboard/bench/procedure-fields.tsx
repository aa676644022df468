import type { ProcedureDocument } from "@leeward/shared-core/documents/procedure.ts";
import { benchWords as text } from "../language/bench-words.ts";
import { CheckField, SelectField, TextField } from "../shell/fields.tsx";
import { FigureField } from "./fields.tsx";
import { figure } from "./figure.ts";

type Figures = "cup" | "nozzleBoreMm" | "amps" | "thicknessMm" | "standoffMm" | "draughtMs";

/** A procedure as it is tried out; figures stay as typed until they are numbers. */
export interface TriedProcedure {
  process: ProcedureDocument["process"];
  transfer: string;
  material: string;
  joint: string;
  gasLens: boolean;
  figures: Record<Figures, string>;
}

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
  const transfer = tried.transfer as NonNullable<ProcedureDocument["transfer"]>;
  return {
    ...kept,
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

/** What is welded, to change and see what it needs. */
export function ProcedureFields(props: {
  tried: TriedProcedure;
  onChange: (tried: TriedProcedure) => void;
}) {
  const { tried, onChange } = props;
  const set = (part: Partial<TriedProcedure>) => onChange({ ...tried, ...part });
  const tig = tried.process === "GTAW";
  const number = (name: Figures) => (
    <FigureField
      label={text.weld[name]}
      value={tried.figures[name]}
      onChange={(value) => set({ figures: { ...tried.figures, [name]: value } })}
    />
  );
  return (
    <>
      <SelectField
        label={text.weld.process}
        value={tried.process}
        options={(["GTAW", "GMAW", "FCAW-G"] as const).map((value) => ({
          value,
          text: text.weld.processes[value],
        }))}
        onChange={(process) => set({ process: process as TriedProcedure["process"] })}
      />
      {tried.process === "GMAW" && (
        <SelectField
          label={text.weld.transfer}
          value={tried.transfer}
          options={[
            { value: "", text: text.notKnown },
            ...(["short-circuit", "spray", "pulsed"] as const).map((value) => ({
              value,
              text: text.weld.transfers[value],
            })),
          ]}
          onChange={(transfer) => set({ transfer })}
        />
      )}
      <TextField
        label={text.weld.material}
        value={tried.material}
        onChange={(material) => set({ material })}
      />
      <TextField label={text.weld.joint} value={tried.joint} onChange={(joint) => set({ joint })} />
      {tig ? number("cup") : number("nozzleBoreMm")}
      {number("amps")}
      {number("thicknessMm")}
      {number("standoffMm")}
      {number("draughtMs")}
      {tig && (
        <CheckField
          label={text.weld.gasLens}
          checked={tried.gasLens}
          onChange={(gasLens) => set({ gasLens })}
        />
      )}
    </>
  );
}
