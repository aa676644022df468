import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
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

const BenchPage = lazyPage(
  () => import("./bench/bench.tsx").then(({ Bench }) => Bench),
  focusFetched,
);
const AlarmsPage = lazyPage(
  () => import("./alarms/alarms.tsx").then(({ Alarms }) => Alarms),
  focusFetched,
);
const RackPage = lazyPage(() => import("./rack/rack.tsx").then(({ Rack }) => Rack), focusFetched);
const LedgerPage = lazyPage(
  () => import("./ledger/ledger.tsx").then(({ Ledger }) => Ledger),
  focusFetched,
);
const LookBackPage = lazyPage(
  () => import("./look-back/look-back.tsx").then(({ LookBack }) => LookBack),
  focusFetched,
);
const SetupPage = lazyPage(
  () => import("./setup/setup.tsx").then(({ Setup }) => Setup),
  focusFetched,
);

/** The page that the address names. */
export function App() {
  useEffect(() => {
    const changed = () => {
      moved = true;
      route.value = routeOf(location.hash);
      scrollTo(0, 0);
      // A new page starts with its content, for whoever goes by keyboard or ear.
      requestAnimationFrame(() => focusContent());
    };
    addEventListener("hashchange", changed);
    return () => removeEventListener("hashchange", changed);
  }, []);
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
