import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { stationSafety } from "@leeward/shared-core/safety/station-safety.ts";
import { localDay } from "@leeward/shared-core/time/zone.ts";
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { type Answer, getStations } from "../api/client.ts";
import { nowS, stations, takeList, timeZone } from "../api/store.ts";
import type { UnitChoice } from "../display/units.ts";
import { setupWords as text } from "../language/setup-words.ts";
import { ProblemNote } from "../shell/problem-note.tsx";
import { checkForm, type Step, stepOfPath } from "./checks.ts";
import { RegulatorGroup } from "./device-step.tsx";
import { supplyDraft } from "./draft.ts";
import type { SupplyDraft } from "./draft-form.ts";
import { CylinderFields } from "./gas-step.tsx";
import type { FormPart } from "./inputs.tsx";
import { afterChange } from "./other-sensor.ts";
import { SafetyNote } from "./safety-note.tsx";
import type { SupplyView } from "./setup-api.ts";
import { formOf, newForm, type SetupForm } from "./setup-form.ts";
import { SteppedForm, useStep } from "./stepped-form.tsx";
import { SupplyCheck } from "./supply-check.tsx";
import { SupplyDrops } from "./supply-drops.tsx";
import {
  asDrop,
  asStation,
  type DropRegulators,
  measuredTogether,
  supplyOf,
} from "./supply-plan.ts";
import { leftBehind, saveSupply } from "./supply-saving.ts";
import { SupplySensor } from "./supply-sensor.tsx";

const steps = ["node", "gas", "device", "sensors", "check"] as const satisfies readonly Step[];
export type SupplyStepName = (typeof steps)[number];

const nameOf = (station: string): string => stations.value.get(station)?.name ?? station;

/** One cylinder or header that feeds several stations: which, what is in it, and its sensor. */
export function SupplyForm(props: {
  site: string;
  base: SupplyView | null;
  /** Those of the site, whose names are taken. */
  there: readonly SupplyView[];
  units: UnitChoice;
  /** What was begun on this device and not saved. */
  draft: SupplyDraft | null;
}) {
  const { site, base, there, units, draft } = props;
  const words = text.supply;
  // What was typed is held against what it was typed on, also once a part of it is saved: a
  // calibration would otherwise be reckoned with twice.
  const [before] = useState(() =>
    draft?.before === undefined ? (base?.description ?? null) : draft.before,
  );
  const [stored, setStored] = useState(base);
  const stationBase = useMemo(() => (before ? asStation(before) : null), [before]);
  const [form, setForm] = useState<SetupForm>(() => {
    if (draft) return draft.form;
    const start = stationBase ? formOf(stationBase, units) : newForm(site, "", units);
    return { ...start, lineSensor: false };
  });
  const [drops, setDrops] = useState<readonly string[]>(draft?.drops ?? before?.drops ?? []);
  const [regulators, setRegulators] = useState<DropRegulators>(draft?.regulators ?? "own");
  const at = useStep<SupplyStepName>(steps.find((one) => one === draft?.step) ?? "node");
  const { step, goTo } = at;
  const [sending, setSending] = useState(false);
  const [answer, setAnswer] = useState<Answer<unknown> | null>(null);
  const [failedAt, setFailedAt] = useState("");
  const today = localDay(nowS.peek(), timeZone.value);
  const document = supplyOf(form, drops, before, units);
  const found = stored ?? leftBehind(document, there);
  // Once it is stored its name is its own.
  const taken = found ? "" : there.map(({ description }) => description.supply).join(" ");
  const checked = useMemo(
    () => checkForm(form, stationBase, units, new Set(taken.split(" ")), today),
    [form, stationBase, units, taken, today],
  );
  const here = [...stations.value.values()].filter((one) => one.site === site && !one.virtual);
  const chosen = here.filter((one) => drops.includes(one.station));
  const fed = (station: StationDocument): StationDocument =>
    station.supply === document.supply ? station : asDrop(station, document, regulators);
  const atDrops =
    checked.document === null
      ? []
      : chosen.map(({ name, description }) => ({
          name,
          report: stationSafety(fed(description), document),
        }));
  const refused =
    checked.refusals.length > 0 || atDrops.some(({ report }) => report.refusals.length > 0);
  const together = measuredTogether(chosen.map(({ description }) => fed(description)));
  const savable = checked.document !== null && drops.length > 0 && !refused;

  const touched = useRef(false);
  useEffect(() => {
    if (!touched.current) return;
    const of = { id: stored?.id ?? null, version: stored?.version ?? 0, before, units };
    supplyDraft.keep({ ...of, form, step, drops, regulators });
  }, [form, step, drops, regulators, stored]);
  /** What somebody does to the form, which is kept from then on. */
  const change =
    <T,>(act: (value: T) => void) =>
    (value: T) => {
      touched.current = true;
      act(value);
    };

  const part: FormPart = {
    form,
    base: stationBase,
    supply: null,
    set: change((typed: Partial<SetupForm>) =>
      setForm((old) => afterChange(old, typed, stationBase, units)),
    ),
    checked,
    units,
    // Nothing of a supply leads to the step that only stations have.
    goTo: (next) => next !== "weld" && goTo(next),
  };

  async function save(): Promise<void> {
    setSending(true);
    setAnswer(null);
    const ids = chosen.map(({ id }) => id);
    const { stored: latest, failed } = await saveSupply(document, ids, regulators, found);
    if (failed && latest !== stored) {
      touched.current = true;
      setStored(latest);
    }
    if (!failed) supplyDraft.drop();
    // Also where it stopped: some stations may draw from it by now.
    const list = await getStations();
    if (list.ok) takeList(list.value);
    setSending(false);
    setAnswer(failed?.answer ?? { ok: true, value: null });
    if (failed) setFailedAt(failed.station === null ? document.supply : nameOf(failed.station));
    else scrollTo(0, 0);
  }

  if (answer?.ok) {
    return (
      <div class="setup-form">
        <p class="noted" role="status" data-saved-supply={`${site}.${document.supply}`}>
          {words.saved(document.supply, chosen.map(({ name }) => name).join(", "))}
        </p>
        <div class="setup-actions">
          <a class="button button-glove button-strong" href="#/setup">
            {text.back}
          </a>
        </div>
      </div>
    );
  }
  return (
    <SteppedForm
      {...{ steps, at, form, checked }}
      titles={words.steps}
      missing={(one) => one === "node" && drops.length === 0}
      save={{
        text: sending ? text.saving : words.save,
        possible: savable && !sending,
        act: () => void save(),
      }}
      notes={
        <>
          {step !== "check" && (
            <SafetyNote
              refusals={checked.refusals.filter(
                (one) => stepOfPath(one.path) === step && step !== "gas",
              )}
              cautions={[]}
              units={units}
            />
          )}
          {answer && <p class="problem">{words.failedAt(failedAt)}</p>}
          <ProblemNote answer={answer} />
        </>
      }
    >
      {step === "node" && (
        <SupplyDrops
          part={part}
          here={here}
          drops={drops}
          stored={stored?.description ?? null}
          regulators={regulators}
          onDrops={change(setDrops)}
          onRegulators={change(setRegulators)}
        />
      )}
      {step === "gas" && <CylinderFields part={part} />}
      {step === "device" && <RegulatorGroup part={part} />}
      {step === "sensors" && (
        <SupplySensor part={part} chosen={chosen} before={stored?.description ?? null} />
      )}
      {step === "check" && (
        <SupplyCheck
          part={part}
          drops={chosen}
          atDrops={atDrops}
          together={together}
          titles={words.steps}
        />
      )}
    </SteppedForm>
  );
}
