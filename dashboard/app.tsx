import { signal } from "@preact/signals";
import type { ComponentType } from "preact";
import { routeOf } from "./display/route.ts";
import { Floor } from "./floor/floor.tsx";
import { Wall } from "./floor/wall.tsx";
import { words } from "./language/words.ts";
import { Explainer } from "./shell/explain.tsx";
import { LostBanner } from "./shell/header.tsx";
import { lazyPage } from "./shell/lazy-page.tsx";
import { Station } from "./station/station.tsx";

const route = signal(routeOf(location.hash));

/** Somebody came here from another page, and not by opening the program. */
let moved = false;

function focusContent(): void {
  document.getElementById("content")?.focus({ preventScroll: true });
}

/** What was fetched first begins with its content too, unless somebody is elsewhere by now. */
function focusFetched(): void {
  if (moved && document.activeElement === document.body) focusContent();
}

const fetchedPage = <P extends object>(load: () => Promise<ComponentType<P>>) =>
  lazyPage(load, { onShown: focusFetched });

const BenchPage = fetchedPage(() => import("./bench/bench.tsx").then(({ Bench }) => Bench));
const AlarmsPage = fetchedPage(() => import("./alarms/alarms.tsx").then(({ Alarms }) => Alarms));
const RackPage = fetchedPage(() => import("./rack/rack.tsx").then(({ Rack }) => Rack));
const LedgerPage = fetchedPage(() => import("./ledger/ledger.tsx").then(({ Ledger }) => Ledger));
const LookBackPage = fetchedPage(() =>
  import("./look-back/look-back.tsx").then(({ LookBack }) => LookBack),
);
const SetupPage = fetchedPage(() => import("./setup/setup.tsx").then(({ Setup }) => Setup));

// From the start: an address that changes while the language is still being fetched counts too.
addEventListener("hashchange", () => {
  moved = true;
  route.value = routeOf(location.hash);
  scrollTo(0, 0);
  // A new page starts with its content, for whoever goes by keyboard or ear.
  requestAnimationFrame(() => focusContent());
});

/** The page that the address names. */
export function App() {
  const here = route.value;
  return (
    <div class={`app app-${here.page}`}>
      <button type="button" class="skip" onClick={focusContent}>
        {words.nav.skip}
      </button>
      <LostBanner />
      {here.page === "floor" && <Floor />}
      {here.page === "wall" && <Wall />}
      {here.page === "bench" && <BenchPage />}
      {here.page === "alarms" && <AlarmsPage key={here.id} id={here.id} />}
      {here.page === "rack" && <RackPage />}
      {here.page === "ledger" && <LedgerPage />}
      {here.page === "look-back" && (
        <LookBackPage key={`${here.id} ${here.from} ${here.to}`} {...here} />
      )}
      {here.page === "setup" && <SetupPage key={JSON.stringify(here.place)} place={here.place} />}
      {here.page === "station" && <Station key={here.id} id={here.id} />}
      <Explainer />
    </div>
  );
}
