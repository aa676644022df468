import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type {
  BenchTestDocument,
  BenchTestView,
} from "@leeward/shared-core/bench/bench-test-document.ts";
import { parseBenchCsv } from "@leeward/shared-core/bench/csv-readings.ts";
import { type FitAnswer, fitDevice } from "@leeward/shared-core/bench/fit-device.ts";
import { BAR_PA } from "@leeward/shared-core/units/factors.ts";
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { orderedStations, stations } from "../api/store.ts";
import { readingToLpm } from "../display/units.ts";
import { benchWords as text } from "../language/bench-words.ts";
import { coreText } from "../language/core-words.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { SelectField, TextField } from "../shell/fields.tsx";
import { Header } from "../shell/header.tsx";
import { useNarrow } from "../shell/narrow.ts";
import { Nav } from "../shell/nav.tsx";
import { ProblemNote } from "../shell/problem-note.tsx";
import { getTests, putTest } from "./bench-api.ts";
import "./bench.css";
import { CardView } from "./card-view.tsx";
import { CompareView } from "./compare-view.tsx";
import { CostsView } from "./costs-view.tsx";
import { type BenchDraft, blankFacts, type Facts, keepDraft, keptDraft } from "./draft.ts";
import { FigureField } from "./fields.tsx";
import { figure } from "./figure.ts";
import { FitView } from "./fit-view.tsx";
import { Fold, More } from "./fold.tsx";
import { GainNote } from "./gain-note.tsx";
import type { GuidedKind } from "./guided-plan.ts";
import { GuidedTest } from "./guided-test.tsx";
import { PressureField } from "./pressure-field.tsx";
import { RowsTable } from "./rows-table.tsx";
import { emptySheet, readSheet, sheetCsv, withRow } from "./sheet.ts";
import { UseView } from "./use-view.tsx";
import { WhatIfView } from "./what-if-view.tsx";

/** Tests of regulators and flow devices: rows, fit, card, comparison, costs. */
export function Bench() {
  const tested = orderedStations.value.filter((view) => view.description.flowDevice);
  const [draft, setDraft] = useState(keptDraft);
  const narrow = useNarrow();
  const { facts, guided, open } = draft;
  // Until one is chosen, the first that stood there: what is typed must not follow the neediest.
  const first = useRef<string | null>(null);
  first.current ??= tested[0]?.id ?? null;
  const view =
    stations.value.get(draft.station ?? "") ?? stations.value.get(first.current ?? "") ?? tested[0];
  const device = view?.description.flowDevice;
  const change = (part: Partial<BenchDraft>) => setDraft((old) => ({ ...old, ...part }));
  const [fitted, setFitted] = useState<{ answer: FitAnswer; test: BenchTestDocument } | null>(null);
  const [working, setWorking] = useState(false);
  const [kept, setKept] = useState<BenchTestView[]>([]);
  const [saved, setSaved] = useState<Answer<BenchTestView> | null>(null);
  // Not after the next picture: a page closed right after the tap would lose the row.
  useLayoutEffect(() => keepDraft(draft), [draft]);
  useEffect(() => {
    document.title = `${text.title} · ${words.productName}`;
    void getTests().then((answer) => {
      if (answer.ok) setKept(answer.value.tests);
    });
    return () => {
      document.title = words.productName;
    };
  }, []);

  const head = (
    <Header>
      <span class="product">{words.productName}</span>
      <Nav here="bench" />
    </Header>
  );
  if (!view || !device) {
    return (
      <>
        {head}
        <main id="content" class="bench pages-explained" tabIndex={-1}>
          <h1 class="empty-title">{words.state.loading}</h1>
        </main>
      </>
    );
  }

  const sheet = draft.sheet ?? emptySheet(units.value, device.readingUnit);
  const csv = sheetCsv(sheet);
  const checked = parseBenchCsv(csv, view.description.cylinder?.composition ?? null);
  const target = figure(facts.target);
  const test: BenchTestDocument = {
    schema: 1,
    name: facts.name.trim() || view.name,
    station: view.id,
    csv,
    serial: facts.serial,
    date: facts.date,
    meter: facts.meter,
    targetLpm: target === null || target === 0 ? null : readingToLpm(target, units.value.flow),
    restBar: facts.restBar,
    flowingBar: facts.flowingBar,
    price: figure(facts.price),
  };
  const fact =
    <K extends keyof Facts>(name: K) =>
    (value: Facts[K]) =>
      change({ facts: { ...facts, [name]: value } });
  const run = () => {
    if (!checked.ok) return;
    setWorking(true);
    // After the page has said so: the fit holds the page for a moment.
    setTimeout(() => {
      const answer = fitDevice(view.description, checked.value, {
        ...(test.targetLpm === null ? {} : { targetLpm: test.targetLpm }),
        ...(test.date === "" ? {} : { date: test.date }),
        ...(test.meter === "" ? {} : { meter: test.meter }),
      });
      setFitted({ answer, test });
      setWorking(false);
    }, 50);
  };
  const keep = async () => {
    const id = open?.id ?? freshId();
    const answer = await putTest(id, test, open?.version ?? 0);
    setSaved(answer);
    if (!answer.ok) return;
    change({ open: { id, version: answer.value.version } });
    setKept([answer.value, ...kept.filter((one) => one.id !== id)]);
  };
  const start = (one: BenchTestView | null) => {
    const known = one?.test;
    setFitted(null);
    setSaved(null);
    change({
      station: known?.station ?? view.id,
      open: one ? { id: one.id, version: one.version } : null,
      sheet: known ? readSheet(known.csv) : null,
      guided: null,
      facts: known
        ? {
            ...blankFacts,
            name: known.name,
            serial: known.serial,
            meter: known.meter,
            date: known.date,
            target: known.targetLpm ? String(inUserFlow(known.targetLpm)) : "",
            restBar: known.restBar,
            flowingBar: known.flowingBar,
            price: known.price === null ? "" : String(known.price),
          }
        : blankFacts,
    });
  };
  const begin = (kind: GuidedKind) =>
    change({ guided: { kind, step: 0, doubled: "3", lastPa: null, said: [] } });
  const result = fitted?.answer.ok ? fitted.answer.value : null;
  const stale = fitted !== null && JSON.stringify(fitted.test) !== JSON.stringify(test);
  // A row that says nothing yet is nothing to work out, or to keep.
  const begun = csv.trim().split("\n").length > 1;
  const answers = (
    <>
      <div class="bench-buttons">
        <button
          type="button"
          class="button button-strong button-glove"
          disabled={!checked.ok || working}
          onClick={run}
        >
          {working ? text.fitting : text.fit}
        </button>
        <button type="button" class="button button-glove" onClick={() => void keep()}>
          {text.keep}
        </button>
      </div>
      {saved?.ok && (
        <p class="noted" role="status">
          {text.keptNow(saved.value.version)}
        </p>
      )}
      <ProblemNote answer={saved} />
      {stale && (
        <p class="caution" role="status">
          {text.changed}
        </p>
      )}
      {fitted && !fitted.answer.ok && (
        <p class="problem" role="alert">
          {coreText(fitted.answer.why)}
        </p>
      )}
    </>
  );
  return (
    <>
      {head}
      <main id="content" class="bench pages-explained" tabIndex={-1}>
        <h1 class="bench-title">{text.title}</h1>
        <p class="quiet no-print">{text.intro}</p>
        <section class="card bench-card no-print">
          <h2 class="card-title">{text.what}</h2>
          <div class="fields">
            <SelectField
              label={text.station}
              value={view.id}
              options={tested.map((one) => ({ value: one.id, text: one.name }))}
              onChange={(id) => {
                change({ station: id, guided: null });
                setFitted(null);
              }}
            />
            {kept.length > 0 && (
              <SelectField
                label={text.kept}
                value={open?.id ?? ""}
                options={[
                  { value: "", text: text.newTest },
                  ...kept.map((one) => ({ value: one.id, text: one.test.name })),
                ]}
                onChange={(id) => start(kept.find((one) => one.id === id) ?? null)}
              />
            )}
            <TextField label={text.meter} value={facts.meter} onChange={fact("meter")} />
            <More title={text.more}>
              <TextField label={text.name} value={facts.name} onChange={fact("name")} />
              <TextField label={text.serial} value={facts.serial} onChange={fact("serial")} />
              <TextField label={text.date} value={facts.date} onChange={fact("date")} />
              <FigureField
                label={text.target(units.value.flow)}
                value={facts.target}
                onChange={fact("target")}
              />
              <PressureField label={text.rest} bar={facts.restBar} onChange={fact("restBar")} />
              <PressureField
                label={text.flowing}
                bar={facts.flowingBar}
                onChange={fact("flowingBar")}
              />
              <FigureField label={text.price} value={facts.price} onChange={fact("price")} />
            </More>
          </div>
          <GainNote view={view} />
        </section>
        {guided ? (
          <GuidedTest
            key={`${guided.kind} ${view.id}`}
            view={view}
            meter={facts.meter}
            state={guided}
            onState={(state) => change({ guided: state })}
            onRow={(cells) => change({ sheet: withRow(sheet, cells) })}
            onEnd={() => change({ guided: null })}
          />
        ) : (
          <section class="card bench-card no-print">
            <h2 class="card-title">{text.live}</h2>
            <p>{text.liveIntro}</p>
            <p class="caution">{text.caution}</p>
            <div class="bench-buttons">
              <button type="button" class="button button-glove" onClick={() => begin("bench")}>
                {text.liveStart}
              </button>
              <button type="button" class="button button-glove" onClick={() => begin("torch")}>
                {text.torchStart}
              </button>
            </div>
          </section>
        )}
        <Fold
          title={text.rows}
          aside={checked.ok ? text.rowsGood(checked.value.readings.length) : text.byHand}
          field="rows"
        >
          <RowsTable sheet={sheet} checked={checked} onChange={(next) => change({ sheet: next })} />
          {!narrow && answers}
        </Fold>
        {narrow && begun && <div class="bench-answer no-print">{answers}</div>}
        {result && fitted && !stale && (
          <>
            <FitView result={result} />
            <CardView result={result} station={view.description} test={fitted.test} />
            <UseView view={view} result={result} />
          </>
        )}
        <WhatIfView
          key={view.id}
          station={view.description}
          tests={kept}
          cylinderBar={cylinderBarOf(view)}
        />
        <CostsView
          key={`costs ${view.id}`}
          view={view}
          restBar={facts.restBar}
          flowingBar={facts.flowingBar}
          targetLpm={test.targetLpm ?? view.estimate?.demand?.targetLpm ?? null}
        />
        <CompareView tests={kept} />
      </main>
    </>
  );
}

/** Cylinder pressure now in whole bar; null where none is measured. */
function cylinderBarOf(view: StationView): number | null {
  const pa = view.estimate?.measured?.cylinderPa ?? null;
  return pa === null ? null : Math.round(pa / BAR_PA);
}

/** A `metric20` flow as the viewer types it. */
function inUserFlow(lpm: number): number {
  return Number((lpm / readingToLpm(1, units.value.flow)).toFixed(2));
}

/** Random; `randomUUID` is missing on plain http. */
function freshId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(8));
  return `test-${Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("")}`;
}
