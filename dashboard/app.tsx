import { signal } from "@preact/signals";
import type { ComponentType } from "preact";
import { useEffect } from "preact/hooks";
import { routeOf } from "./display/route.ts";
import { Floor } from "./floor/floor.tsx";
import { Wall } from "./floor/wall.tsx";
import { words } from "./language/words.ts";
import { LostBanner } from "./shell/header.tsx";
import { Station } from "./station/station.tsx";

const route = signal(routeOf(location.hash));

/** The Bench comes as a chunk of its own: the first view does without it. */
const bench = signal<ComponentType | null>(null);

function BenchPage() {
  useEffect(() => {
    void import("./bench/bench.tsx").then((module) => {
      bench.value = module.Bench;
    });
  }, []);
  const Page = bench.value;
  return Page ? <Page /> : <p class="empty">{words.state.loading}</p>;
}

function focusContent(): void {
  document.getElementById("content")?.focus({ preventScroll: true });
}

/** The page that the address names. */
export function App() {
  useEffect(() => {
    const changed = () => {
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
      {here.page === "station" && <Station key={here.id} id={here.id} />}
    </div>
  );
}
