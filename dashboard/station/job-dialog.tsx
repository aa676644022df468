import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { ProcedureDocument } from "@leeward/shared-core/documents/procedure.ts";
import { useState } from "preact/hooks";
import { materialName, procedureLine } from "../display/weld-line.ts";
import { words } from "../language/words.ts";
import { Choice } from "../shell/choice.tsx";
import { Dialog } from "../shell/dialog.tsx";
import { NumberField, SelectField, TextField } from "../shell/fields.tsx";
import { EntryFooter } from "./entry-footer.tsx";
import { recentProcedures, rememberProcedure } from "./recent-procedures.ts";
import { useEntry } from "./use-entry.ts";

type Process = ProcedureDocument["process"];
type Transfer = NonNullable<ProcedureDocument["transfer"]>;

/** What is welded now: one of the last procedures by one large button, or another. */
export function JobDialog({ view, onClose }: { view: StationView; onClose: () => void }) {
  const text = words.actions;
  const entry = useEntry(view.id);
  const now = view.description.procedure;
  const [recent] = useState(() => {
    const kept = recentProcedures(view.id);
    const lines = kept.map(procedureLine);
    return now && !lines.includes(procedureLine(now)) ? [now, ...kept].slice(0, 4) : kept;
  });
  const [other, setOther] = useState(recent.length === 0);
  const [job, setJob] = useState("");
  const named = job.trim() === "" ? {} : { job: job.trim() };
  const busy = entry.state === "sending";

  async function start(procedure: ProcedureDocument): Promise<void> {
    if (await entry.send("job", { job: { ...named, procedure } })) {
      rememberProcedure(view.id, procedure);
    }
  }

  return (
    <Dialog title={text.jobTitle} onClose={onClose}>
      <TextField label={text.jobName} value={job} onChange={setJob} />
      {!other && (
        <div class="job-list">
          {recent.map((procedure) => (
            <button
              key={procedureLine(procedure)}
              type="button"
              class="button button-glove"
              disabled={busy || entry.state === "sent"}
              onClick={() => start(procedure)}
            >
              {procedureLine(procedure)}
              {procedure === now && <small>{text.jobCurrent}</small>}
            </button>
          ))}
          <button type="button" class="button button-glove" onClick={() => setOther(true)}>
            {text.jobOther}
          </button>
        </div>
      )}
      {other && (
        <OtherProcedure from={now} disabled={busy || entry.state === "sent"} onSend={start} />
      )}
      <EntryFooter state={entry.state} answer={entry.answer} onClose={onClose}>
        <button
          type="button"
          class="button button-glove"
          disabled={busy}
          onClick={() => entry.send("job", { job: { ...named, gasless: true } })}
        >
          {text.jobGasless}
        </button>
        <button
          type="button"
          class="button button-glove"
          disabled={busy}
          onClick={() => entry.send("job", { job: { end: true } })}
        >
          {text.jobEnd}
        </button>
      </EntryFooter>
    </Dialog>
  );
}

function OtherProcedure(props: {
  from: ProcedureDocument | undefined;
  disabled: boolean;
  onSend: (procedure: ProcedureDocument) => void;
}) {
  const text = words.actions;
  const [process, setProcess] = useState<Process>(props.from?.process ?? "GTAW");
  const [material, setMaterial] = useState(props.from?.material ?? "carbon steel");
  const [cup, setCup] = useState(props.from?.cup ?? 7);
  const [nozzle, setNozzle] = useState(props.from?.nozzleBoreMm ?? 16);
  const [transfer, setTransfer] = useState<Transfer>(props.from?.transfer ?? "short-circuit");
  const [amps, setAmps] = useState(props.from?.amps ?? 120);
  const steps = { less: text.less, more: text.more };
  const tig = process === "GTAW";
  const procedure: ProcedureDocument = {
    process,
    material,
    amps,
    ...(tig ? { cup } : { nozzleBoreMm: nozzle }),
    ...(process === "GMAW" ? { transfer } : {}),
  };
  return (
    <>
      <Choice
        label={text.jobProcess}
        name="job-process"
        value={process}
        options={(["GTAW", "GMAW", "FCAW-G"] as const).map((value) => ({
          value,
          text: words.claim.processes[value],
        }))}
        onChange={setProcess}
      />
      <SelectField
        label={text.jobMaterial}
        value={material}
        options={[...new Set([material, ...Object.keys(text.materials)])].map((value) => ({
          value,
          text: materialName(value),
        }))}
        onChange={setMaterial}
      />
      {tig ? (
        <NumberField
          label={text.jobCup}
          value={cup}
          step={1}
          min={1}
          {...steps}
          onChange={setCup}
        />
      ) : (
        <NumberField
          label={text.jobNozzle}
          value={nozzle}
          step={1}
          min={1}
          {...steps}
          onChange={setNozzle}
        />
      )}
      {process === "GMAW" && (
        <Choice
          label={text.jobTransfer}
          name="job-transfer"
          value={transfer}
          options={(["short-circuit", "spray", "pulsed"] as const).map((value) => ({
            value,
            text: words.weld.transfer[value],
          }))}
          onChange={setTransfer}
        />
      )}
      <NumberField
        label={text.jobAmps}
        value={amps}
        step={10}
        min={1}
        {...steps}
        onChange={setAmps}
      />
      <button
        type="button"
        class="button button-glove button-strong"
        disabled={props.disabled}
        onClick={() => props.onSend(procedure)}
      >
        {text.send}
      </button>
    </>
  );
}
