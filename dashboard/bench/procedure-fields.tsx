import { benchWords as text } from "../language/bench-words.ts";
import { CheckField, SelectField, TextField } from "../shell/fields.tsx";
import { FigureField } from "./fields.tsx";
import type { Figures, TriedProcedure } from "./tried-procedure.ts";

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
