import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { useEffect } from "preact/hooks";
import { shop, stationOf } from "../api/store.ts";
import { ageInWords } from "../display/durations.ts";
import { sentenceOf } from "../display/sentence.ts";
import { stationLine } from "../display/weld-line.ts";
import { onlyInSight } from "../floor/sight.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { Header } from "../shell/header.tsx";
import { lazyPage } from "../shell/lazy-page.tsx";
import { freshnessOf, mayHoldLiquid } from "../shell/view-state.ts";
import { Actions } from "./actions.tsx";
import { AlarmBand } from "./alarm-band.tsx";
import { DeviceCard } from "./device-card.tsx";
import { Figures } from "./figures.tsx";
import { FlowCard } from "./flow-card.tsx";
import { HistoryCard } from "./history-card.tsx";
import { LeftCard } from "./left-card.tsx";
import { ToldCard } from "./told-card.tsx";

/** One station: from three metres the band on top, nearer the figures and what they rest on. */
export function Station({ id }: { id: string }) {
  const view = stationOf(id);
  useEffect(() => onlyInSight(id), [id]);
  useEffect(() => {
    document.title = view ? `${view.name} · ${words.productName}` : words.productName;
    return () => {
      document.title = words.productName;
    };
  }, [view?.name]);
  if (!view) return <Missing />;
  return <StationPage view={view} />;
}

const LeakTestCard = lazyPage(() =>
  import("./leak-test-card.tsx").then(({ LeakTestCard }) => LeakTestCard),
);

/** A result stays on the page for a day, s. */
const RESULT_SHOWN_S = 24 * 3600;

/** Whoever waited for it comes back to read it: so long it stands on top, s. */
const RESULT_FRESH_S = 3600;

/** Where a leak test stands: on top while it runs and is news, then with the rest for a day. */
function leakTestPlace({ estimate }: StationView): "first" | "top" | "below" | null {
  const test = estimate?.leak.test;
  if (!test || estimate.t > test.until + RESULT_SHOWN_S) return null;
  if (test.phase === "settling" || test.phase === "running") return "first";
  return estimate.t <= test.until + RESULT_FRESH_S ? "top" : "below";
}

function Missing() {
  return (
    <>
      <Header kind="station">
        <BackLink />
      </Header>
      <main id="content" class="station" tabIndex={-1}>
        <h1 class="empty-title">{shop.value ? words.station.missing : words.state.loading}</h1>
        {shop.value && <p class="empty">{words.station.missingNote}</p>}
      </main>
    </>
  );
}

function BackLink() {
  return (
    <nav aria-label={words.nav.label} class="nav">
      <a class="back" href="#/">
        <span aria-hidden="true">‹ </span>
        {words.station.back}
      </a>
    </nav>
  );
}

function StationPage({ view }: { view: StationView }) {
  const age = freshnessOf(view);
  const liquid = mayHoldLiquid(view);
  const live = age.state === "live";
  const chosen = units.value;
  const sentence = sentenceOf(view, age, liquid, units.value);
  // What is urgent comes before a test: it may be what ends it.
  const place = leakTestPlace(view);
  const first = place === "first" && sentence.urgency !== "now";
  return (
    <>
      <Header kind="station">
        <BackLink />
        <h1 class="station-name">{view.name}</h1>
        <span class="station-line">{stationLine(view.description)}</span>
        {view.virtual && !shop.value?.demo.virtual && (
          <span class="tag">{words.state.virtual}</span>
        )}
        <span class={live ? "station-age" : "station-age station-age-old"} data-field="age">
          {age.ageS === null
            ? words.state.noData
            : live
              ? ageInWords(age.ageS)
              : words.state.old(ageInWords(age.ageS))}
        </span>
      </Header>
      <main
        id="content"
        class={`station${live ? "" : " is-old"}`}
        tabIndex={-1}
        data-station={view.id}
        data-t={view.estimate?.t}
        data-fresh={age.state}
      >
        {first && <LeakTestCard view={view} units={chosen} />}
        <AlarmBand view={view} sentence={sentence} faded={!live} />
        {(place === "top" || (place === "first" && !first)) && (
          <LeakTestCard view={view} units={chosen} />
        )}
        <div class="station-top">
          <FlowCard view={view} units={chosen} live={live} liquid={liquid} />
          <DeviceCard view={view} live={live} />
          <LeftCard view={view} units={chosen} liquid={liquid} />
        </div>
        <ToldCard view={view} />
        {place === "below" && <LeakTestCard view={view} units={chosen} />}
        <Actions view={view} units={chosen} />
        <HistoryCard view={view} units={chosen} />
        <Figures view={view} units={chosen} liquid={liquid} />
      </main>
    </>
  );
}
