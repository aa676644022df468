import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { ProcedureDocument } from "@leeward/shared-core/documents/procedure.ts";
import { useState } from "preact/hooks";
import { type JobCode, readJobCode } from "../display/job-code.ts";
import { PHONE_HREF } from "../display/route.ts";
import { materialName, procedureLine } from "../display/weld-line.ts";
import { words } from "../language/words.ts";
import { lendsCamera } from "../shell/camera.ts";
import { Choice } from "../shell/choice.tsx";
import { Dialog } from "../shell/dialog.tsx";
import { DialogFooter } from "../shell/dialog-footer.tsx";
import { NumberField, SelectField, TextField } from "../shell/fields.tsx";
import { lazyPage } from "../shell/lazy-page.tsx";
import { procedureByCode, recentProcedures, rememberProcedure } from "./recent-procedures.ts";
import { useEntry } from "./use-entry.ts";

type Process = ProcedureDocument["process"];
type Transfer = NonNullable<ProcedureDocument["transfer"]>;

/** What is welded now: one of the last procedures by one large button, or another. */
export function JobDialog({ view, onClose }: { view: StationView; onClose: () => void }) {
  const text = words.actions;
  const entry = useEntry(view.id);
  const now = view.description.procedure;
  const [recent, setRecent] = useState<ProcedureDocument[]>(() => {
    const kept = recentProcedures(view.id);
    const lines = kept.map(procedureLine);
    return now && !lines.includes(procedureLine(now)) ? [now, ...kept].slice(0, 4) : kept;
  });
  const [other, setOther] = useState(recent.length === 0);
  const [job, setJob] = useState("");
  const [welder, setWelder] = useState("");
  /** Number of a procedure that was scanned and is not known yet. */
  const [wps, setWps] = useState<string | null>(null);
  const named = {
    ...(job.trim() === "" ? {} : { job: job.trim() }),
    ...(welder.trim() === "" ? {} : { welder: welder.trim() }),
  };
  const busy = entry.state === "sending";

  async function start(chosen: ProcedureDocument): Promise<void> {
    const procedure = wps === null ? chosen : { ...chosen, wps };
    if (await entry.send("job", { job: { ...named, procedure } })) {
      rememberProcedure(view.id, procedure);
    }
  }

  function take(code: JobCode): void {
    if (code.job !== undefined) setJob(code.job);
    if (code.welder !== undefined) setWelder(code.welder);
    if (code.procedure === undefined) return;
    const known =
      [...recent, ...(now ? [now] : [])].find((one) => one.wps === code.procedure) ??
      procedureByCode(code.procedure);
    if (known) setRecent([known, ...recent.filter((one) => one !== known)].slice(0, 4));
    setWps(known ? null : code.procedure);
  }

  return (
    <Dialog title={text.jobTitle} onClose={onClose}>
      <CodeField onCode={take} />
      {wps !== null && <p role="status">{words.told.codeUnknown(wps)}</p>}
      <div class="job-names">
        <TextField label={text.jobName} value={job} onChange={setJob} />
        <TextField label={words.told.welderName} value={welder} onChange={setWelder} />
      </div>
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
      <DialogFooter sent={entry.state === "sent"} answer={entry.answer} onClose={onClose}>
        <button
          type="button"
          class="button button-glove"
          disabled={busy}
          onClick={() => entry.send("job", { job: { ...named, gasless: true } })}
        >
          {text.jobGasless}
        </button>
        {view.estimate?.told?.job && (
          <button
            type="button"
            class="button button-glove"
            disabled={busy}
            onClick={() => entry.send("job", { job: { end: true } })}
          >
            {text.jobEnd}
          </button>
        )}
      </DialogFooter>
    </Dialog>
  );
}

const CodeScanner = lazyPage(() =>
  import("../setup/code-scanner.tsx").then(({ CodeScanner }) => CodeScanner),
);

/** A code from a scanner that types, or typed by hand: procedure, job and welder in one. */
function CodeField({ onCode }: { onCode: (code: JobCode) => void }) {
  const text = words.told;
  const [code, setCode] = useState("");
  const [bad, setBad] = useState(false);
  const [scanning, setScanning] = useState(false);
  const take = (told: string) => {
    const read = readJobCode(told);
    setBad(read === null);
    if (!read) return;
    setCode("");
    onCode(read);
  };
  return (
    <form
      class="code-field"
      onSubmit={(event) => {
        event.preventDefault();
        take(code);
      }}
    >
      <TextField label={text.code} value={code} placeholder="P:WPS-12 J:4711" onChange={setCode} />
      <button type="submit" class="button button-glove" disabled={code.trim() === ""}>
        {text.codeUse}
      </button>
      {lendsCamera() && !scanning && (
        <button type="button" class="button button-glove" onClick={() => setScanning(true)}>
          {text.codeScan}
        </button>
      )}
      {scanning && (
        <CodeScanner
          onStop={() => setScanning(false)}
          onCode={(read) => {
            setScanning(false);
            take(read);
          }}
        />
      )}
      <p class="quiet">{bad ? text.codeBad : text.codeNote}</p>
      {!lendsCamera() && (
        <p class="quiet" data-field="no-camera">
          {text.codeNoCamera} <a href={PHONE_HREF}>{text.codeCameraHow}</a>
        </p>
      )}
    </form>
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
