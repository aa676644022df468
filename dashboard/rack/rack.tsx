import type { Rack as RackView } from "@leeward/shared-core/api/rack.ts";
import { useEffect, useState } from "preact/hooks";
import { nowS, orderedStations, timeZone } from "../api/store.ts";
import { dayInWords, momentInWords } from "../display/durations.ts";
import { fixed } from "../display/numbers.ts";
import { rackWords as text } from "../language/rack-words.ts";
import { words } from "../language/words.ts";
import { Explained } from "../shell/explain.tsx";
import { NumberField } from "../shell/fields.tsx";
import { Header } from "../shell/header.tsx";
import { Nav } from "../shell/nav.tsx";
import { OldNote } from "../shell/old-note.tsx";
import { ProblemNote } from "../shell/problem-note.tsx";
import { useKept } from "../shell/use-kept.ts";
import "../style/pages.css";
import "./rack.css";
import { AddCylinder } from "./add-cylinder.tsx";
import { Fitted } from "./fitted.tsx";
import { orderRests } from "./order-figures.ts";
import { OrderLine } from "./order-line.tsx";
import { getRack, saveRackSettings } from "./rack-api.ts";
import { Stored } from "./stored.tsx";

const POLL_MS = 15_000;

/** Cylinders fitted and in store, when to change them, what to order. */
export function Rack() {
  const site = orderedStations.value[0]?.site ?? null;
  const { value, cameS, old, answer, take } = useKept<RackView>({
    page: site === null ? null : `rack ${site}`,
    ask: () => getRack(site ?? ""),
    fits: isRack,
    everyMs: POLL_MS,
  });
  useEffect(() => {
    document.title = `${text.title} · ${words.productName}`;
    return () => {
      document.title = words.productName;
    };
  }, []);
  const rack = value;
  return (
    <>
      <Header>
        <span class="product">{words.productName}</span>
        <Nav here="rack" />
      </Header>
      <main id="content" class={`rack pages-explained${old ? " is-old" : ""}`} tabIndex={-1}>
        <h1 class="page-title">{text.title}</h1>
        {!answer && <p class="empty">{words.state.loadingPage}</p>}
        {old && rack ? <OldNote cameS={cameS} /> : <ProblemNote answer={answer} />}
        {rack && (
          <>
            <OrderLine rack={rack} />
            <Fitted rack={rack} onChange={take} />
            <Order key={`${rack.leadDays} ${rack.coverDays}`} rack={rack} onChange={take} />
            <Stored rack={rack} onChange={take} />
            <AddCylinder rack={rack} onChange={take} />
            <Moves rack={rack} />
          </>
        )}
      </main>
    </>
  );
}

/** Whether what this device kept is a Rack as it is shown here. */
function isRack(kept: unknown): kept is RackView {
  const rack = kept as Partial<RackView> | null;
  return [rack?.cylinders, rack?.reorder, rack?.moves, rack?.undoable].every(Array.isArray);
}

/** What to order of each gas and by when, from habit. */
function Order({ rack, onChange }: { rack: RackView; onChange: (rack: RackView) => void }) {
  const [lead, setLead] = useState(rack.leadDays);
  const [cover, setCover] = useState(rack.coverDays);
  const day = (t: number) => dayInWords(t, nowS.value, timeZone.value);
  const save = async () => {
    const answer = await saveRackSettings(rack.site, lead, cover);
    if (answer.ok) onChange(answer.value);
  };
  return (
    <section class="card" aria-labelledby="order-title" data-field="order">
      <h2 class="card-title" id="order-title">
        {text.order}
      </h2>
      <p class="card-small">{text.orderIntro}</p>
      <div class="scroll">
        <table class="plain-table">
          <thead>
            <tr>
              <th scope="col">{text.gas}</th>
              <th scope="col">{text.inStore}</th>
              <th scope="col">{text.lasts}</th>
              <th scope="col">{text.orderBy}</th>
              <th scope="col">{text.count}</th>
            </tr>
          </thead>
          <tbody>
            {rack.reorder.map((line) => (
              <tr key={line.gas} data-gas={line.gas}>
                <th scope="row">
                  <strong>{line.gas}</strong>
                  {line.unknown > 0 && (
                    <small class="rack-order-note"> {text.unknown(line.unknown)}</small>
                  )}
                </th>
                <td>
                  <Explained figure="rack-in-store" label={text.inStore}>
                    {fixed(line.inStore, 0)}
                  </Explained>
                </td>
                <td>
                  <Explained
                    figure="rack-lasts"
                    label={text.lasts}
                    rests={() => orderRests(rack, line.gas)}
                  >
                    {line.outOfStock === null ? text.later : day(line.outOfStock)}
                  </Explained>
                </td>
                <td>
                  <Explained
                    figure="rack-order-by"
                    label={text.orderBy}
                    rests={() => orderRests(rack, line.gas)}
                  >
                    {line.orderBy === null ? (
                      text.later
                    ) : line.orderBy <= nowS.value ? (
                      <strong class="rack-now">{text.now}</strong>
                    ) : (
                      day(line.orderBy)
                    )}
                  </Explained>
                </td>
                <td>
                  <Explained
                    figure="rack-order"
                    label={text.count}
                    rests={() => orderRests(rack, line.gas)}
                  >
                    <strong>{fixed(line.order, 0)}</strong>
                  </Explained>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <div class="fields">
        <NumberField label={text.lead} value={lead} step={1} onChange={setLead} />
        <NumberField label={text.cover} value={cover} step={1} min={1} onChange={setCover} />
        <button type="button" class="button button-glove" onClick={() => void save()}>
          {text.save}
        </button>
      </div>
    </section>
  );
}

function Moves({ rack }: { rack: RackView }) {
  const names = new Map(orderedStations.value.map((view) => [view.id, view.name]));
  return (
    <section class="card" aria-labelledby="moves-title" data-field="moves">
      <h2 class="card-title" id="moves-title">
        {text.moves}
      </h2>
      <ol class="rack-moves">
        {rack.moves.slice(0, 40).map((move, index) => (
          <li key={`${move.time} ${move.kind} ${index}`} data-move={move.kind}>
            <time dateTime={move.time}>
              {momentInWords(Date.parse(move.time) / 1000, nowS.value, timeZone.value)}
            </time>
            <span>
              <strong>{move.serial ?? text.noSerial}</strong>
              {move.lot && `, ${text.lot(move.lot)}`}: {text.kinds[move.kind]}
              {move.station && `, ${names.get(move.station) ?? move.station}`}
              {move.by && ` ${text.by(move.by)}`}
            </span>
          </li>
        ))}
      </ol>
    </section>
  );
}
