import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { stationSafety } from "@leeward/shared-core/safety/station-safety.ts";
import { useMemo, useState } from "preact/hooks";
import { nowS, shop, stations } from "../api/store.ts";
import { ageInWords } from "../display/durations.ts";
import { isSetAside } from "../display/former-node.ts";
import { stationHref } from "../display/route.ts";
import { SetAside, stoodText } from "../floor/unclaimed.tsx";
import { setupWords as text } from "../language/setup-words.ts";
import { gapsOf } from "./checks.ts";
import { DemoNote } from "./demo-note.tsx";
import { type DraftKeeper, stationDraft, supplyDraft } from "./draft.ts";
import type { Draft } from "./draft-form.ts";
import { ForgetDraft } from "./forget-draft.tsx";
import { standingOf } from "./outdated-draft.ts";
import type { SupplyView } from "./setup-api.ts";
import { useSupplies } from "./use-supplies.ts";

/** All that can be set up: stations, half ones first, nodes that wait, the shop, phones. */
export function SetupHome() {
  const list = [...stations.value.values()].sort((a, b) => a.name.localeCompare(b.name));
  const free = shop.value?.unclaimed ?? [];
  const supplies = useSupplies();
  const unclaimed = free.filter((node) => !isSetAside(node, nowS.value));
  return (
    <>
      <h1>{text.title}</h1>
      <p class="quiet">{text.intro}</p>
      <DemoNote />
      <Begun of={stationDraft} places={["new", "station"]} list={shop.value ? list : null} />
      <Begun of={supplyDraft} places={["new-supply", "supply"]} list={supplies} />
      <a class="button button-glove button-strong setup-new" href="#/setup/new">
        {text.newStation}
      </a>
      {unclaimed.length > 0 && (
        <section class="setup-card" aria-labelledby="setup-unclaimed">
          <h2 id="setup-unclaimed">{text.unclaimed}</h2>
          <ul class="setup-list">
            {unclaimed.map((one) => (
              <li key={`${one.site}.${one.node}`}>
                <a class="button" href={`#/setup/node/${one.site}.${one.node}`}>
                  {text.useNode(one.node)}
                </a>
                {one.stood && <p class="quiet">{stoodText(one.site, one)}</p>}
              </li>
            ))}
          </ul>
        </section>
      )}
      <section class="setup-card" aria-labelledby="setup-stations">
        <h2 id="setup-stations">{text.stations}</h2>
        {list.length === 0 && <p class="quiet">{text.none}</p>}
        <ul class="setup-list">
          {list.map((view) => (
            <StationRow key={view.id} view={view} />
          ))}
        </ul>
      </section>
      <Supplies supplies={supplies ?? []} />
      <SetAside nodes={free} />
      <div class="setup-pair">
        <section class="setup-card" aria-labelledby="setup-shop">
          <h2 id="setup-shop">
            <a href="#/setup/shop">{text.shop}</a>
          </h2>
          <p class="quiet">{text.shopNote}</p>
        </section>
        <section class="setup-card" aria-labelledby="setup-phone">
          <h2 id="setup-phone">
            <a href="#/setup/phone">{text.phone}</a>
          </h2>
          <p class="quiet">{text.phoneNote}</p>
        </section>
      </div>
    </>
  );
}

/** What was begun on this device and not saved: go on with it, or let it go. */
function Begun<D extends Draft<unknown>>(props: {
  of: DraftKeeper<D>;
  /** Where a new one is set up, and where one that is here. */
  places: readonly [string, string];
  /** What is set up now; null while that is not known. */
  list: readonly { id: string; version: number }[] | null;
}) {
  const [fresh, there] = props.places;
  const [draft, setDraft] = useState(props.of.recall);
  if (!draft) return null;
  const standing = standingOf(draft, props.list);
  return (
    <div class="noted" data-field="draft" data-standing={standing}>
      <p>
        {text.begun(
          draft.form.name.trim() || text.unnamed,
          ageInWords(Math.max(0, (Date.now() - draft.keptMs) / 1000)),
        )}{" "}
        {standing !== "fits" && text.outdated[standing]}
      </p>
      <div class="setup-actions">
        {standing !== "gone" && (
          <a
            class="button button-strong"
            href={draft.id === null ? `#/setup/${fresh}` : `#/setup/${there}/${draft.id}`}
          >
            {text.goOn}
          </a>
        )}
        <ForgetDraft of={props.of} onForgotten={() => setDraft(null)} />
      </div>
    </div>
  );
}

/** Cylinders and headers that feed several stations. */
function Supplies({ supplies }: { supplies: readonly SupplyView[] }) {
  const of = text.supply;
  return (
    <section class="setup-card" aria-labelledby="setup-supplies">
      <h2 id="setup-supplies">{of.title}</h2>
      <p class="quiet">{of.intro}</p>
      {supplies.length > 0 && (
        <ul class="setup-list">
          {supplies.map(({ id, description }) => (
            <li key={id} class="setup-row" data-supply={id}>
              <div>
                <h3>{description.supply}</h3>
                <p class="quiet">{of.feeds(description.drops.join(", "))}</p>
              </div>
              <div class="setup-row-actions">
                <a
                  class="button"
                  href={`#/setup/supply/${id}`}
                  aria-label={of.change(description.supply)}
                >
                  {text.changeShort}
                </a>
              </div>
            </li>
          ))}
        </ul>
      )}
      <p>
        <a class="button" href="#/setup/new-supply">
          {of.fresh}
        </a>
      </p>
    </section>
  );
}

function StationRow({ view }: { view: StationView }) {
  const { description } = view;
  // The pressure of a filling takes the equation of state: once a version.
  const { gaps, dangerous } = useMemo(() => {
    const report = stationSafety(description);
    return { gaps: gapsOf(description, report.cautions), dangerous: report.refusals.length > 0 };
  }, [view.id, view.version]);
  const half = gaps.length > 0;
  return (
    <li class="setup-row" data-setup={view.id} data-half={half}>
      <div>
        <h3>
          <a href={stationHref(view.id)}>{view.name}</a>
        </h3>
        <p class={half || dangerous ? "setup-half" : "quiet"}>
          {half ? text.half : text.done}
          {half && `. ${text.missing(gaps.map((gap) => text.gaps[gap]).join(", "))}`}
          {dangerous && ` ${text.dangerous}`}
        </p>
      </div>
      <div class="setup-row-actions">
        <a class="button" href={`#/setup/station/${view.id}`} aria-label={text.change(view.name)}>
          {text.changeShort}
        </a>
        <a class="button" href={`#/setup/label/${view.id}`} aria-label={text.label(view.name)}>
          {text.labelShort}
        </a>
      </div>
    </li>
  );
}
