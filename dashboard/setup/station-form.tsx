import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import { localDay } from "@leeward/shared-core/time/zone.ts";
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { type Answer, getStations, putStation } from "../api/client.ts";
import { nowS, ownSite, stations, takeList, timeZone } from "../api/store.ts";
import { stationHref } from "../display/route.ts";
import type { UnitChoice } from "../display/units.ts";
import { setupWords as text } from "../language/setup-words.ts";
import { ProblemNote } from "../shell/problem-note.tsx";
import { CheckStep } from "./check-step.tsx";
import { checkForm, type Gap, type Step, steps } from "./checks.ts";
import { DeviceStep } from "./device-step.tsx";
import { stationDraft } from "./draft.ts";
import { GasStep } from "./gas-step.tsx";
import type { FormPart } from "./inputs.tsx";
import { NodeStep } from "./node-step.tsx";
import { afterChange } from "./other-sensor.ts";
import { SensorsStep } from "./sensors-step.tsx";
import { getSupply, putSupply } from "./setup-api.ts";
import type { SetupForm } from "./setup-form.ts";
import { SteppedForm, useStep } from "./stepped-form.tsx";
import { nodesElsewhere, takeNode } from "./take-node.ts";
import { useSupplies } from "./use-supplies.ts";
import { WeldStep } from "./weld-step.tsx";

/** The station as it was when the form was opened. */
export interface Base {
  id: string;
  version: number;
  document: StationDocument;
}

/** All steps of one station, checked at every key; kept on this device until it is saved. */
export function StationForm(props: {
  base: Base | null;
  start: SetupForm;
  startStep: Step;
  units: UnitChoice;
  onSaved?: () => void;
}) {
  const { base, units } = props;
  const [form, setForm] = useState(props.start);
  const at = useStep<Step>(props.startStep);
  const { step, goTo } = at;
  const [sending, setSending] = useState(false);
  const [answer, setAnswer] = useState<Answer<StationView> | null>(null);
  const [notBack, setNotBack] = useState(false);
  const touched = useRef(false);
  const site = form.site || ownSite.value || "shop";
  const here = [...stations.value.values()].filter((one) => one.site === site);
  const taken = here.map((one) => one.station).join(" ");
  const today = localDay(nowS.peek(), timeZone.value);
  const supplies = useSupplies()?.filter(({ description }) => description.site === site) ?? [];
  const elsewhere = [
    ...nodesElsewhere({ site, taken: form.taken }, base?.id ?? null, here, supplies),
  ].join(" ");
  const supply = supplies.find(({ description }) => description.supply === form.supply);
  // The gas of a shared supply is what its cylinder holds.
  const gas = supply ? supply.description.cylinder.gas : form.gas;
  const checked = useMemo(
    () =>
      checkForm(
        { ...form, site, gas },
        base?.document ?? null,
        units,
        new Set(taken.split(" ")),
        today,
        { supply: supply?.description ?? null, nodesElsewhere: new Set(elsewhere.split(" ")) },
      ),
    [form, site, base, units, taken, elsewhere, today, supply?.id],
  );
  useEffect(() => {
    if (!touched.current) return;
    const of = {
      id: base?.id ?? null,
      version: base?.version ?? 0,
      before: base?.document ?? null,
    };
    stationDraft.keep({ ...of, form, step, units });
  }, [form, step]);

  const part: FormPart = {
    form: { ...form, site, gas },
    base: base?.document ?? null,
    supply: supply?.description ?? null,
    set: (change) => {
      touched.current = true;
      setForm((before) => afterChange(before, change, base?.document ?? null, units));
    },
    checked,
    units,
    goTo,
  };
  const savable = checked.document !== null && checked.refusals.length === 0;

  async function save(): Promise<void> {
    const { document } = checked;
    if (!document) return;
    setSending(true);
    const id = base?.id ?? `${document.site}.${document.station}`;
    const result = await put(id, document);
    setSending(false);
    setAnswer(result);
    if (!result.ok) return;
    await noLongerDrop(base?.document ?? null, document);
    stationDraft.drop();
    props.onSaved?.();
    const list = await getStations();
    if (list.ok) takeList(list.value);
    scrollTo(0, 0);
  }

  /** A node that moves leaves its old station only now, and returns there where this is not taken. */
  async function put(id: string, document: StationDocument): Promise<Answer<StationView>> {
    const listed = await listedAsDrop(document);
    if (listed) return listed;
    const taking = await takeNode(form);
    if (!taking.ok) return taking.answer;
    const result = await putStation(id, document, base?.version ?? null);
    if (!result.ok) setNotBack(!(await taking.giveBack()));
    return result;
  }

  if (answer?.ok) return <Saved view={answer.value} gaps={checked.gaps} />;
  return (
    <SteppedForm
      {...{ steps, at, form, checked }}
      titles={text.steps}
      save={{
        text: sending ? text.saving : checked.gaps.length > 0 ? text.saveHalf : text.save,
        possible: savable && !sending,
        act: () => void save(),
      }}
      saveEarly={
        savable
          ? { text: base && checked.gaps.length === 0 ? text.save : text.saveHalf, sending }
          : null
      }
      notes={
        <>
          <ProblemNote answer={answer} />
          {notBack && form.taken && (
            <p class="problem" role="alert">
              {text.node.notBack(form.node, nameOf(form.taken.station))}
            </p>
          )}
          {answer && !answer.ok && (answer.status === 412 || answer.status === 428) && (
            <p class="problem" role="alert">
              {text.conflict}
            </p>
          )}
        </>
      }
    >
      {step === "node" && <NodeStep part={part} base={base?.id ?? null} />}
      {step === "gas" && <GasStep part={part} supplies={supplies} />}
      {step === "device" && <DeviceStep part={part} />}
      {step === "sensors" && <SensorsStep part={part} begun={base !== null} />}
      {step === "weld" && <WeldStep part={part} />}
      {step === "check" && <CheckStep part={part} />}
    </SteppedForm>
  );
}

const nameOf = (station: string): string => stations.value.get(station)?.name ?? station;

/** Sees to it that the supply knows of the station, which the gateway asks for; what went wrong, or null. */
async function listedAsDrop({ site, station, supply }: StationDocument) {
  if (!supply) return null;
  const got = await getSupply(`${site}.${supply}`);
  if (!got.ok) return got;
  const { description, version } = got.value;
  if (description.drops.includes(station)) return null;
  const drops = [...description.drops, station];
  const put = await putSupply({ ...description, drops }, version);
  return put.ok ? null : put;
}

/** Takes a station that has left its supply off that one's list; the last one stays, since a supply has one. */
async function noLongerDrop(before: StationDocument | null, now: StationDocument): Promise<void> {
  if (!before?.supply || before.supply === now.supply) return;
  const got = await getSupply(`${before.site}.${before.supply}`);
  if (!got.ok) return;
  const { description, version } = got.value;
  const drops = description.drops.filter((one) => one !== before.station);
  if (drops.length > 0) await putSupply({ ...description, drops }, version);
}

function Saved({ view, gaps }: { view: StationView; gaps: readonly Gap[] }) {
  return (
    <div class="setup-form">
      <p class="noted" role="status" data-saved={view.id}>
        {text.saved(view.name)}{" "}
        {gaps.length > 0 && `${text.check.left} ${gaps.map((gap) => text.gaps[gap]).join(", ")}.`}
      </p>
      <div class="setup-actions">
        <a class="button button-glove button-strong" href={stationHref(view.id)}>
          {text.openStation}
        </a>
        <a class="button button-glove" href={`#/setup/label/${view.id}`}>
          {text.label(view.name)}
        </a>
        <a class="button button-glove" href="#/setup">
          {text.back}
        </a>
      </div>
    </div>
  );
}
